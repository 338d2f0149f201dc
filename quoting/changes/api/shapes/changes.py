from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import Amount, As, Choice, Of, Text, TextOrNull, View
from quoting.changes.models import ChangeAnswer, ChangeState
from quoting.changes.services.change_notes import ANSWERS
from quoting.changes.services.contract_margins import margins_of
from quoting.core.changes.change_notes import COST_CATEGORIES, KINDS, MAX_DAYS_MOVED, MAX_LINES
from quoting.platform.api.declared import answer_shapes, request_shapes
from quoting.platform.api.parts import (
    FIGURE,
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
from quoting.quotes.models import AnswerWay

Schema = dict[str, Any]
GIVEN: Schema = {"type": "string", "pattern": r"^-?[0-9]{1,9}(\.[0-9]{1,2})?$", "description": "Money, either sign."}
LONG: Schema = {"type": "string", "maxLength": 2000}
LINE_GIVEN: Schema = {
    "type": "object",
    "properties": {"what": ONE_LINE, "price": GIVEN, "taxed": GIVEN, "cost": or_none(GIVEN)},
    "required": ["what", "price"],
    "additionalProperties": False,
}
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
CHANGE: Schema = {
    "kind": one_of(*KINDS),
    "title": TEXT,
    "reason": TEXT,
    "days_moved": WHOLE,
    "original": TEXT,
    "replacement": TEXT,
    "allowance": TEXT,
    "lines": many(ref("ChangeLineShown")),
}
Money = Annotated[Decimal, Amount()]


class ChangeLineShown(View):
    """cost: ours, null where nobody has said; left out for roles that see no margin."""

    what: str
    price: Money
    taxed: Money
    cost: Annotated[Money | None, As(withheld="margins")]


class ChangeCostShown(View):
    """What an item of a change costs the firm."""

    category: Annotated[str, Choice(COST_CATEGORIES)]
    item: str
    what: str
    quantity: Decimal
    unit_cost: Decimal


class ChangeNoteShown(View):
    """A change as it was put to the client; part of the contract once it is signed."""

    document_name = "change_note"

    number: int
    kind: Annotated[str, Choice(KINDS)]
    title: str
    state: Annotated[str, Choice(tuple(ChangeState.values))]
    state_at: datetime
    state_by_name: Annotated[str, As(name="state_by")]
    issued_on: date
    issued_by_name: Annotated[str, As(name="issued_by")]
    days_moved: int
    currency: str
    price: Money
    tax: Money
    total: Money


class NoteAnswerShown(View):
    """What the client answered to a change note."""

    answer: Annotated[str, Choice(tuple(ANSWERS))]
    way: Annotated[str, Choice(tuple(AnswerWay.values))]
    typed_name: Annotated[str, As(name="name")]
    reason: str
    answered_at: Annotated[datetime, As(name="at")]
    answered_on: Annotated[date, As(name="on")]
    paper_sha256: Annotated[str, TextOrNull()]


class FrozenChangeNote(ChangeNoteShown):
    """A change note with all that was put to the client. costs: by item; left out for roles that see no margin."""

    document_name = "frozen_change_note"

    quote: Annotated[str, Of("revision.quote.number")]
    revision: Annotated[int, Of("revision.number")]
    reason: str
    original: str
    replacement: str
    state_reason: str
    snapshot_sha256: Annotated[str, As(name="sha256")]
    lines: Annotated[tuple[ChangeLineShown, ...], Of(lambda note: note.lines.all())]
    costs: Annotated[tuple[ChangeCostShown, ...], As(withheld="margins"), Of(lambda note: note.costs.all())]
    answer: Annotated[NoteAnswerShown | None, Of(lambda note: ChangeAnswer.objects.filter(note=note).first())]


class MarginShown(View):
    """Before tax. assumed: the part of the price whose cost nobody has said; taken at the quote's share of cost."""

    price: Money
    cost: Money
    assumed: Money
    margin: Annotated[Decimal | None, Of(lambda margin: None if margin.margin is None else round(margin.margin, 4))]


class MarginsShown(View):
    """As accepted, and with the signed notes."""

    accepted: MarginShown
    present: MarginShown


class ContractShown(View):
    """What is agreed. exposure and relief: what notes that wait for a signature would add and take off."""

    document_name = "contract"

    quote: Annotated[str, Of("revision.quote.number")]
    revision: Annotated[int, Of("revision.number")]
    currency: str
    accepted: Annotated[Money, Of("sums.accepted")]
    signed: Annotated[Money, Of("sums.signed")]
    total: Annotated[Money, Of("sums.total")]
    exposure: Annotated[Money, Of("sums.exposure")]
    relief: Annotated[Money, Of("sums.relief")]
    days_moved: int
    notes: tuple[ChangeNoteShown, ...]
    margins: Annotated[
        MarginsShown | None,
        As(withheld="margins"),
        "As accepted and with the signed notes; null for a quote without a price.",
        Of(margins_of),
    ]


@dataclass(frozen=True)
class NewNoteAnswer:
    """What the client signed on paper."""

    answer: Annotated[str, Choice(tuple(ANSWERS))]
    name: Annotated[str, Text(200)]
    reason: str = ""


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
        costs=many(ref("ChangeCostShown")),
        **CHANGE,
    ),
    "ChangeDrafts": thing("", drafts=many(ref("ChangeDraft"))),
    **answer_shapes(FrozenChangeNote, ContractShown),
    **request_shapes(NewNoteAnswer),
}
