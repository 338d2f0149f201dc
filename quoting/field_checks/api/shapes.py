from typing import Any

from quoting.platform.api.parts import DAY, FIGURE, FINDINGS, MONEY, TEXT, many, or_none, thing

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
