"""What came damaged, wrong or too much: told to the supplier in time, and what it did about it."""

from collections.abc import Collection
from dataclasses import asdict, dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, ClassVar

from django.db import transaction
from django.db.models import DecimalField, F, OuterRef, Q, Subquery, Sum, Value
from django.db.models.functions import Coalesce

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Choice, Items, Money, Number, read
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import EntryError, Refused
from catalog.core.ground.workdays import WorkCalendar
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.core.ordering.order_lines import count_in_words
from jobs.core.ordering.receiving import Received
from jobs.deliveries.models import ClaimOutcome, ReceiptLine, ReceivedPiece, ReturnedGoods
from jobs.deliveries.services.order_events import MAX_QUANTITY, day_come, held_order
from jobs.deliveries.services.received_pieces import (
    STATES,
    CameEntered,
    amounts_come,
    pieces_come,
)
from jobs.deliveries.services.receiving import claim_deadline, shelve, state_of, surplus_of
from jobs.orders.services.order_changes import orders_changed
from jobs.orders.services.pieces import how_pieces_came
from jobs.orders.services.replacement_lines import REPLACED_PARTS
from quoting.platform.models.columns import normalized, quantized
from quoting.platform.people.signatures import Signature


@dataclass(frozen=True)
class NewClaim:
    """The supplier was told; today where no day is said."""

    claimed_on: date | None = None


@dataclass(frozen=True)
class SettledClaim:
    """The answer to a claim."""

    document_name: ClassVar[str] = "ClaimOutcome"
    outcome: Annotated[str, Choice(tuple(ClaimOutcome.values))]
    outcome_on: date | None = None
    outcome_note: Annotated[str, As(name="note")] = ""
    credit: Annotated[Decimal | None, Money()] = None


@dataclass(frozen=True)
class Correction:
    """Other figures than were checked in."""

    note: Annotated[str, "Why it is corrected."]
    seen: Annotated[
        tuple[Decimal, ...],
        Items(Number(high=MAX_QUANTITY), len(STATES)),
        "Good, damaged and wrong as they stood when you read them.",
    ]
    came: Annotated[CameEntered, As(spread=True)]

    def __post_init__(self) -> None:
        if len(self.seen) != len(STATES):
            raise EntryError("seen", "must hold three figures: good, damaged and wrong as they stood")


@dataclass(frozen=True)
class OpenClaim:
    """days_left: working days of the firm to its deadline, negative when past; None where the term is not known."""

    receipt: ReceiptLine
    days_left: int | None

    @property
    def is_claimed(self) -> bool:
        return self.receipt.claimed_on is not None


def receipts_with_parts() -> Any:
    rows = ReceiptLine.objects.select_related("delivery__order__supplier", "line__job__client", "line__material")
    return rows.prefetch_related(*(f"line__{part}" for part in REPLACED_PARTS), "pieces", "photos")


def to_claim(order_ids: Collection[int] | None = None) -> Any:
    """Receipts with something to tell the supplier or to decide, its answer not in yet; of some orders or of all."""
    bad_or_timed = Q(damaged__gt=0) | Q(wrong__gt=0) | Q(claim_by__isnull=False)
    rows = receipts_with_parts()
    rows = rows if order_ids is None else rows.filter(delivery__order__in=order_ids)
    return rows.annotate(**_COUNTED).filter(bad_or_timed | _IS_EXCESS, outcome="")


def _summed(rows: Any, figure: str) -> Coalesce:
    total = rows.filter(line=OuterRef("line")).order_by().values("line").annotate(total=Sum(figure)).values("total")
    return Coalesce(Subquery(total), Value(Decimal(0)), output_field=_FIGURE)


_FIGURE = DecimalField(max_digits=20, decimal_places=6)
_COUNTED = {
    "good_so_far": _summed(ReceiptLine.objects.filter(pk__lte=OuterRef("pk")), "good"),
    "bad": _summed(ReceiptLine.objects.all(), "damaged") + _summed(ReceiptLine.objects.all(), "wrong"),
    "sent_back": _summed(ReturnedGoods.objects.all(), "quantity"),
}
# What went back was first of all what came damaged or wrong.
_IS_EXCESS = Q(good__gt=0, good_so_far__gt=F("line__quantity")) & Q(
    good_so_far__gt=F("line__quantity") + F("sent_back") - F("bad")
)
"""Good ones beyond what was ordered, which are here still."""


def open_claims(today: date, firm: WorkCalendar) -> list[OpenClaim]:
    """Not yet claimed first, by the days left; those of which nobody knows the term stand on top."""
    claims = [OpenClaim(row, days_left(row, today, firm)) for row in to_claim()]
    return sorted(claims, key=lambda claim: (claim.is_claimed, -10_000 if claim.days_left is None else claim.days_left))


def days_left(row: ReceiptLine, today: date, firm: WorkCalendar) -> int | None:
    if row.claim_by is None:
        return None
    counted = firm.workdays_between(today, row.claim_by)
    # On a day off after a Friday's deadline none lies between, and it is past all the same.
    return min(counted, -1) if today > row.claim_by else counted


def needs_claim(row: ReceiptLine) -> bool:
    return bool(row.damaged or row.wrong or row.claim_by or _goes_beyond(row))


def _goes_beyond(row: ReceiptLine) -> bool:
    """Whether with it more good ones came than were ordered."""
    so_far = sum(receipt.good for receipt in row.line.receipts.all() if receipt.pk <= row.pk)
    return bool(row.good) and so_far > row.line.quantity


@transaction.atomic
def claim(row: ReceiptLine, document: dict[str, Any], signature: Signature) -> ReceiptLine:
    """The supplier was told, by a NewClaim. Said twice it is one claim."""
    row = _held(row)
    asked, first = read(NewClaim, entry_reader(document)), row.delivery.received_on
    day = day_come(asked.claimed_on, "claimed_on", signature, not_before=first, why="the day it came")
    if not needs_claim(row):
        raise Refused(f"All of {row.line.what} came good on {day_words(row.delivery.received_on)}.")
    if row.claimed_on is None:
        save_if_changed(row, {"claimed_on": day, "claimed_by_name": signature.by})
        orders_changed([row.line.job_id])
    return row


@transaction.atomic
def claimed_by_mail(row: ReceiptLine, signature: Signature) -> None:
    """Its letter left for the supplier that day, sent by that name."""
    row = _held(row)
    if row.claimed_on is None:
        save_if_changed(row, {"claimed_on": signature.on, "claimed_by_name": signature.by})
        orders_changed([row.line.job_id])


@transaction.atomic
def settle_claim(row: ReceiptLine, document: dict[str, Any], signature: Signature) -> ReceiptLine:
    """What came of it, a ClaimOutcome. What the supplier decides, it was told of first."""
    row = _held(row)
    asked = read(SettledClaim, entry_reader(document))
    first = row.claimed_on or row.delivery.received_on
    day = day_come(asked.outcome_on, "outcome_on", signature, not_before=first, why="the day it came or was claimed")
    if not needs_claim(row):
        raise Refused(f"All of {row.line.what} came good on {day_words(row.delivery.received_on)}.")
    if row.claimed_on is None and asked.outcome != ClaimOutcome.KEPT:
        raise Refused("This is not claimed yet: enter the claim first, then the answer.")
    if asked.outcome == ClaimOutcome.CREDITED and asked.credit is None:
        raise DocumentError.at("credit", "is missing; say how much the supplier credits")
    if asked.outcome == ClaimOutcome.REFUSED and asked.credit:
        reason = f"{asked.credit} is credited by nobody when the claim is refused; leave it empty"
        raise DocumentError.at("credit", reason)
    save_if_changed(row, asdict(asked) | {"outcome_on": day})
    orders_changed([row.line.job_id])
    return row


@transaction.atomic
def correct_receipt(row: ReceiptLine, document: dict[str, Any]) -> ReceiptLine:
    """Other figures than were checked in, a Correction. The history keeps what stood before."""
    row = _held(row)
    asked = read(Correction, entry_reader(document))
    mine = [piece.number for piece in row.pieces.all()]
    try:
        pieces = pieces_come(asked.came, how_pieces_came(row.line) if mine else (), mine)
        amounts = amounts_come(asked.came, pieces)
        came = Received(**amounts)
    except EntryError as error:
        raise DocumentError.at(error.field, error.reason) from error
    standing = [getattr(row, name) for name in STATES]
    if [quantized(count) for count in asked.seen] != standing:
        counts = ", ".join(
            f"{format(normalized(count), 'f')} {name}" for count, name in zip(standing, STATES, strict=True)
        )
        raise Refused(f"Somebody corrected it since you opened the page: it now says {counts}. Nothing was saved.")
    if row.outcome:
        raise Refused("Its claim is answered already; correct the answer first.")
    line = row.line
    others = [receipt for receipt in line.receipts.all() if receipt.pk != row.pk]
    by = claim_deadline(row.delivery.order, line, came, row.delivery.received_on, others)
    before = surplus_of(line)
    save_if_changed(row, amounts | {"note": asked.note, "claim_by": by})
    row.pieces.all().delete()
    ReceivedPiece.objects.bulk_create(ReceivedPiece(receipt=row, number=n, state=s) for n, s in pieces.items())
    shelve(line, before)
    orders_changed([line.job_id])
    return row


def _held(row: ReceiptLine) -> ReceiptLine:
    held_order(row.delivery.order_id)
    receipt: ReceiptLine = receipts_with_parts().get(pk=row.pk)
    return receipt


def is_excess_alone(row: ReceiptLine) -> bool:
    """Too many good ones came: there is nothing to make good, and something to decide."""
    return not (row.damaged or row.wrong) and _goes_beyond(row)


def standing_words(row: ReceiptLine) -> str:
    """Where a claim stands, for lists."""
    if row.outcome:
        return row.get_outcome_display()
    if is_excess_alone(row) and not row.claimed_on:
        return f"{normalized(state_of(row.line).excess):f} more than ordered: decide to keep them or send them back"
    return "Claimed, no answer yet" if row.claimed_on else "Not claimed yet"


def claim_count(row: ReceiptLine) -> str:
    """How much of it came bad, such as "2 damaged pieces"."""
    bad = [(amount, how) for amount, how in ((row.damaged, "damaged"), (row.wrong, "wrong")) if amount]
    if not bad:
        return "what is too much"
    how = bad[0][1] if len(bad) == 1 else "bad"
    figure, _, unit = count_in_words(sum((amount for amount, _ in bad), Decimal(0)), row.line.unit).partition(" ")
    return f"{figure} {how} {unit}"
