from typing import Any

from quoting.core.prices.variants import MAX_VARIANTS, Variant
from quoting.core.quotes.comparison import RISKS
from quoting.platform.api.declared import request_shapes
from quoting.platform.api.parts import DAY, FIGURE, MONEY, NUMBER, TEXT, WHOLE, many, or_none, ref, thing

Schema = dict[str, Any]


def _asked(about: str, **properties: Schema) -> Schema:
    return {"type": "object", "description": about, "properties": properties, "additionalProperties": False}


DIFFERENCE = thing(
    "A line that is not as in the build as it stands; hours carry no cost.",
    ("cost",),
    key=TEXT,
    name=TEXT,
    unit=TEXT,
    before=or_none(FIGURE),
    after=or_none(FIGURE),
    difference=FIGURE,
    cost=or_none(MONEY),
)
BOUGHT = thing("", material=TEXT, name=TEXT, buy=FIGURE, unit=TEXT, cost=or_none(MONEY))
BUILD = thing(
    "One build. What is not known is null, and `missing` says why. Prices are left out for roles that make none.",
    ("price", "total"),
    name=TEXT,
    variant=or_none(ref("BuildVariant")),
    walls=many(TEXT),
    material_cost=or_none(MONEY),
    hours=or_none(NUMBER),
    price=or_none(MONEY),
    total=or_none(MONEY),
    finish=or_none(DAY),
    kinds=many(thing("", kind=TEXT, label=TEXT, cost=or_none(MONEY), purchases=many(BOUGHT))),
    long_lead=many(thing("", material=TEXT, name=TEXT, order_by=or_none(DAY), days_in_hand=or_none(WHOLE))),
    risks=thing("How many findings of each weight.", **dict.fromkeys(RISKS, WHOLE)),
    missing=many(TEXT),
    decisions_left_behind=many(thing("", key=TEXT, by=TEXT, reason=TEXT)),
    differences=thing("Against the build as it stands.", purchases=many(DIFFERENCE), steps=many(DIFFERENCE)),
)
SHAPES: Schema = {
    "BuildVariant": request_shapes(Variant)["BuildVariant"],
    "BuildVariants": {
        **_asked(
            "One to three ways to build a job.",
            variants={"type": "array", "items": ref("BuildVariant"), "minItems": 1, "maxItems": MAX_VARIANTS},
        ),
        "required": ["variants"],
    },
    "BuildComparison": thing(
        "The build as it stands and the others beside it.",
        job=TEXT,
        title=TEXT,
        today=DAY,
        currency=TEXT,
        present=ref("PricedBuild"),
        builds=many(ref("PricedBuild")),
        held={**many(TEXT), "description": "What of the price does not follow the build, in sentences."},
    ),
    "PricedBuild": BUILD,
}
