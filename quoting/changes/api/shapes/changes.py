from typing import Any

from quoting.changes.models import ChangeState
from quoting.core.changes.change_notes import COST_CATEGORIES, KINDS, MAX_DAYS_MOVED, MAX_LINES
from quoting.platform.api.parts import (
    DAY,
    FIGURE,
    MOMENT,
    MONEY,
    ONE_LINE,
    TEXT,
    VERSION,
    WHOLE,
    many,
    one_of,
    or_none,
    ref,
    thing,
)

Schema = dict[str, Any]
GIVEN: Schema = {"type": "string", "pattern": r"^-?[0-9]{1,9}(\.[0-9]{1,2})?$", "description": "Money, either sign."}
LONG: Schema = {"type": "string", "maxLength": 2000}
LINE_GIVEN: Schema = {
    "type": "object",
    "properties": {"what": ONE_LINE, "price": GIVEN, "taxed": GIVEN, "cost": or_none(GIVEN)},
    "required": ["what", "price"],
    "additionalProperties": False,
}
LINE: Schema = thing(
    "cost: ours, null where nobody has said; left out for roles that see no margin.",
    ("cost",),
    what=TEXT,
    price=MONEY,
    taxed=MONEY,
    cost=or_none(MONEY),
)
COST_GIVEN: Schema = {
    "type": "object",
    "properties": {
        "category": one_of(*COST_CATEGORIES),
        "item": ONE_LINE,
        "what": {"type": "string", "maxLength": 200},
        "quantity": {"type": "string", "pattern": r"^-?[0-9]{1,8}(\.[0-9]{1,6})?$"},
        "unit_cost": {"type": "string", "pattern": r"^[0-9]{1,7}(\.[0-9]{1,6})?$"},
    },
    "required": ["category", "item", "quantity", "unit_cost"],
    "additionalProperties": False,
}
COST: Schema = thing(
    "What an item of a change costs the firm.",
    category=one_of(*COST_CATEGORIES),
    item=TEXT,
    what=TEXT,
    quantity=FIGURE,
    unit_cost=FIGURE,
)
CHANGE: Schema = {
    "kind": one_of(*KINDS),
    "title": TEXT,
    "reason": TEXT,
    "days_moved": WHOLE,
    "original": TEXT,
    "replacement": TEXT,
    "allowance": TEXT,
    "lines": many(LINE),
}
MARGIN: Schema = thing(
    "Before tax. assumed: the part of the price whose cost nobody has said; taken at the quote's share of cost.",
    price=MONEY,
    cost=MONEY,
    assumed=MONEY,
    margin=or_none(FIGURE),
)
SHAPES: Schema = {
    "Change": {
        "description": "A change of the accepted quote. `taxed` may be left out where tax is on the whole price. "
        "`cost` is the firm's own and reaches no client.",
        "type": "object",
        "properties": {
            "kind": one_of(*KINDS),
            "title": ONE_LINE,
            "reason": {**LONG, "pattern": r"\S"},
            "days_moved": {"type": "integer", "minimum": -MAX_DAYS_MOVED, "maximum": MAX_DAYS_MOVED},
            "original": LONG,
            "replacement": LONG,
            "allowance": {"type": "string", "maxLength": 200},
            "lines": {"type": "array", "items": LINE_GIVEN, "maxItems": MAX_LINES},
            "costs": {"type": "array", "items": COST_GIVEN, "maxItems": MAX_LINES},
        },
        "required": ["title", "reason"],
        "additionalProperties": False,
    },
    "ChangeDraft": thing(
        "A change being priced. cautions: what to look at before it is issued. hours_moved, days_proposed: of a change "
        "worked out from the walls; null where they are not known. No day moves until days_moved is entered. costs: by "
        "item, counting before any cost of a line; left out for roles that see no margin.",
        ("costs",),
        id=WHOLE,
        version=VERSION,
        cautions=many(TEXT),
        hours_moved=or_none(FIGURE),
        days_proposed=or_none(WHOLE),
        costs=many(COST),
        **CHANGE,
    ),
    "ChangeDrafts": thing("", drafts=many(ref("ChangeDraft"))),
    "ChangeNote": thing(
        "A change as it was put to the client; part of the contract once it is signed.",
        number=WHOLE,
        kind=one_of(*KINDS),
        title=TEXT,
        state=one_of(*ChangeState.values),
        state_at=MOMENT,
        state_by=TEXT,
        issued_on=DAY,
        issued_by=TEXT,
        days_moved=WHOLE,
        currency=TEXT,
        price=MONEY,
        tax=MONEY,
        total=MONEY,
    ),
    "Contract": thing(
        "What is agreed. exposure and relief: what notes that wait for a signature would add and take off. margins: as "
        "accepted and with the signed notes; null for a quote without a price, left out for roles that see no margin.",
        ("margins",),
        quote=TEXT,
        revision=WHOLE,
        currency=TEXT,
        accepted=MONEY,
        signed=MONEY,
        total=MONEY,
        exposure=MONEY,
        relief=MONEY,
        days_moved=WHOLE,
        notes=many(ref("ChangeNote")),
        margins=or_none(thing("", accepted=MARGIN, present=MARGIN)),
    ),
}
