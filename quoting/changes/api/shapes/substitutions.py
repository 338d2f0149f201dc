"""Substitutions as the API says them."""

from typing import Any

from quoting.platform.api.parts import (
    FIGURE,
    ONE_LINE,
    REASON,
    TEXT,
    WHOLE,
    given,
    many,
    one_of,
    or_none,
    ref,
    thing,
)

Schema = dict[str, Any]
NEEDED_REASON: Schema = {**REASON, "pattern": r"\S"}
PLACE: Schema = {"type": "integer", "minimum": 0, "maximum": 5000, "description": "Of the line on its order."}
STAND_IN = thing(
    "price: the least of a unit today. tightest_radius: asked of it; least_radius: its limit there; both null where "
    "nothing is bent. lead_workdays: as planned, else as quoted. Null where not known.",
    material=TEXT,
    name=TEXT,
    price=or_none(FIGURE),
    unit=TEXT,
    tightest_radius=or_none(ref("Length")),
    least_radius=or_none(ref("Length")),
    lead_workdays=or_none(WHOLE),
)
SUBSTITUTION = thing(
    "One material in the place of another. The walls are changed by hand once its note is signed.",
    id=WHOLE,
    order=or_none(TEXT),
    place=or_none(WHOLE),
    material=TEXT,
    instead=TEXT,
    reason=TEXT,
    draft=or_none(WHOLE),
    note=or_none(WHOLE),
    standing=one_of("priced", "issued", "signed", "declined", "withdrawn", "dropped"),
    made_by=TEXT,
    need=ref("CheckedNeed"),
)
SHAPES: Schema = {
    "Substitution": SUBSTITUTION,
    "Substitutions": thing("", substitutions=many(ref("Substitution"))),
    "StandIns": thing(
        "left_out: of the same kind and not offered, with the reason.",
        material=TEXT,
        offered=many(STAND_IN),
        left_out=many(thing("", material=TEXT, why=TEXT)),
    ),
    "NewSubstitution": given(
        "order and place: of the line it is for, where it was ordered already; else material.",
        ("instead", "reason"),
        material={"type": "string", "maxLength": 60},
        order={"type": "string", "maxLength": 20},
        place=PLACE,
        instead={**ONE_LINE, "maxLength": 60},
        reason=NEEDED_REASON,
    ),
}
