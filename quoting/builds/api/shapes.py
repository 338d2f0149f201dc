from typing import Any

from quoting.builds.services.way_price import WayPrice
from quoting.core.prices.variants import MAX_VARIANTS, Variant
from quoting.core.quotes.comparison_document import ComparisonShown
from quoting.platform.api.declared import answer_shapes, request_shapes
from quoting.platform.api.parts import ref

Schema = dict[str, Any]


def _asked(about: str, **properties: Schema) -> Schema:
    return {"type": "object", "description": about, "properties": properties, "additionalProperties": False}


SHAPES: Schema = {
    "BuildVariant": request_shapes(Variant)["BuildVariant"],
    "BuildVariants": {
        **_asked(
            "One to three ways to build a job.",
            variants={"type": "array", "items": ref("BuildVariant"), "minItems": 1, "maxItems": MAX_VARIANTS},
        ),
        "required": ["variants"],
    },
    **answer_shapes(ComparisonShown, WayPrice),
}
