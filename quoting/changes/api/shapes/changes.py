from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import As, Choice, Of, Text, TextOrNull, View
from quoting.changes.models import ChangeAnswer, ChangeState
from quoting.changes.services.change_notes import ANSWERS
from quoting.changes.services.contract_margins import margins_of
from quoting.changes.services.draft_cautions import cautions_of
from quoting.core.changes.change_document import ChangeSpec
from quoting.core.changes.change_notes import COST_CATEGORIES, KINDS
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes
from quoting.quotes.api.shapes.quote import GivenAnswer, Money


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


Lines = Annotated[tuple[ChangeLineShown, ...], Of(lambda row: row.lines.all())]
Costs = Annotated[tuple[ChangeCostShown, ...], As(withheld="margins"), Of(lambda row: row.costs.all())]


class ChangeDraftShown(View):
    """A change being priced. No day moves until days_moved is entered."""

    document_name = "change_draft"

    id: int
    version: Annotated[int, "Rises with every change; the ETag holds it."]
    cautions: Annotated[tuple[str, ...], "What to look at before it is issued.", Of(cautions_of)]
    hours_moved: Annotated[Decimal | None, "Of a change worked out from the walls; null where not known."]
    days_proposed: Annotated[int | None, "By those hours; null where not known."]
    kind: Annotated[str, Choice(KINDS)]
    title: str
    reason: str
    days_moved: int
    original: str
    replacement: str
    allowance: str
    lines: Lines
    costs: Annotated[Costs, "By item, counting before any cost of a line."]


ChangeDrafts = list_of("ChangeDrafts", "drafts", ChangeDraftShown, "Changes of a job that are being priced.")


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


class NoteAnswerShown(GivenAnswer):
    """What the client answered to a change note."""

    answer: Annotated[str, Choice(tuple(ANSWERS))]
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
    lines: Lines
    costs: Costs
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


SHAPES = answer_shapes(ChangeDrafts, FrozenChangeNote, ContractShown) | request_shapes(ChangeSpec, NewNoteAnswer)
