from typing import Any

from jobs.core.measure.curve import FACES
from jobs.core.measure.wall_spec import FORMS, POSITIONS
from quoting.core.prices.variants import MAX_CHANGES, MAX_LAYERS, MAX_NAME_LENGTH, MAX_VARIANTS
from quoting.core.quotes.comparison import RISKS
from quoting.platform.api.parts import DAY, FIGURE, MONEY, NUMBER, TEXT, WHOLE, many, or_none, ref, thing

Schema = dict[str, Any]
WALL: Schema = {"type": ["string", "null"], "maxLength": 2000, "description": "Key of the wall; null for every wall."}
CODE: Schema = {"type": ["string", "null"], "maxLength": 2000, "description": "Code of the material; null as it is."}


def _asked(about: str, **properties: Schema) -> Schema:
    return {"type": "object", "description": about, "properties": properties, "additionalProperties": False}


def _or_as_it_is(words: tuple[str, ...], about: str) -> Schema:
    return {"enum": [*words, None], "description": about}


FACE_CHANGE = _asked(
    "Faces built another way: layers, board or level, at least one of them.",
    wall=WALL,
    face=_or_as_it_is(FACES, "Null for both that carry board."),
    layers={
        "type": ["integer", "null"],
        "minimum": 1,
        "maximum": MAX_LAYERS,
        "description": "Fewer keeps those against the framing, more repeats the outermost.",
    },
    board=CODE,
    level={"type": ["integer", "null"], "minimum": 0, "maximum": 5, "description": "Finish level (GA-214)."},
)
TRIM_CHANGE = _asked(
    "Trim had another way: profile or form, at least one of them.",
    wall=WALL,
    face=_or_as_it_is(FACES, "Null for both."),
    position=_or_as_it_is(POSITIONS, "Null for all."),
    material=CODE,
    form=_or_as_it_is(FORMS, "How it is to be had."),
)
VARIANT: Schema = {
    **_asked(
        "A way to build the job.",
        name={"type": "string", "pattern": r"\S", "maxLength": MAX_NAME_LENGTH},
        faces={"type": ["array", "null"], "items": ref("FaceChange"), "maxItems": MAX_CHANGES},
        trims={"type": ["array", "null"], "items": ref("TrimChange"), "maxItems": MAX_CHANGES},
    ),
    "required": ["name"],
}
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
    "FaceChange": FACE_CHANGE,
    "TrimChange": TRIM_CHANGE,
    "BuildVariant": VARIANT,
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
