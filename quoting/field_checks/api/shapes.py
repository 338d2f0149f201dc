from typing import Any

from quoting.platform.api.parts import (
    DAY,
    FIGURE,
    FINDINGS,
    LENGTH,
    MONEY,
    TEXT,
    WHOLE,
    many,
    one_of,
    or_none,
    thing,
)

Schema = dict[str, Any]
SIDES = thing(
    "Null while something is missing.",
    quoted=or_none(MONEY),
    confirmed=or_none(MONEY),
    difference=or_none(MONEY),
)
SHAPES: Schema = {
    "FieldCheck": thing(
        "What a wall confirmed on site moves. Costs and prices are left out for roles that do not see them.",
        ("currency", "material_cost", "price", "price_missing", "price_held"),
        job=TEXT,
        wall=TEXT,
        today=DAY,
        quoted={**TEXT, "description": "Where the quoted wall comes from."},
        currency=TEXT,
        radii=many(
            thing(
                "A radius that moves, on the line it is measured on; null where the piece is no arc. Pieces from 1.",
                piece=WHOLE,
                line=TEXT,
                quoted=or_none(LENGTH),
                confirmed=or_none(LENGTH),
            )
        ),
        ordered=many(
            thing(
                "Ordered pieces made to a radius the wall has no more; `flex` is how far they flex the way it takes.",
                order=TEXT,
                where=one_of("draft", "on_order", "on_site"),
                run=TEXT,
                piece=WHOLE,
                side=TEXT,
                made_to=LENGTH,
                wall=or_none(LENGTH),
                flex=or_none(LENGTH),
                fit=one_of("fits", "too_far", "not_known", "gone"),
                sentence=TEXT,
            )
        ),
        inform=many(thing("Who must know, and what to do.", who=TEXT, sentence=TEXT)),
        lines=many(
            thing(
                "A quantity that moves; null where the line is not there.",
                key=TEXT,
                label=TEXT,
                material=TEXT,
                unit=TEXT,
                quoted=or_none(FIGURE),
                confirmed=or_none(FIGURE),
                difference=FIGURE,
            )
        ),
        purchases=many(
            thing(
                "",
                ("quoted_cost", "confirmed_cost"),
                material=TEXT,
                name=TEXT,
                unit=TEXT,
                quoted=or_none(FIGURE),
                confirmed=or_none(FIGURE),
                quoted_cost=or_none(MONEY),
                confirmed_cost=or_none(MONEY),
            )
        ),
        findings=FINDINGS,
        material_cost=SIDES,
        price={**SIDES, "description": "Of the whole job before tax."},
        price_missing=or_none(TEXT),
        price_held=many(TEXT),
    ),
}
