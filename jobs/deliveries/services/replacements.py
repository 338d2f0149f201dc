"""What came wrong or damaged, ordered again: whether that still comes in time is said before anything is made."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import Items, Whole
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey
from catalog.core.ground.workdays import calendar_with
from catalog.models import Material
from catalog.services.book import book_of
from jobs.core.ordering.line_pieces import LinePiece
from jobs.core.ordering.needs import AGREED, Want, date_want
from jobs.core.ordering.receiving import ReplacementCheck, replacement_check
from jobs.deliveries.models import ClaimOutcome, ReceiptLine
from jobs.deliveries.services.claims import receipts_with_parts
from jobs.deliveries.services.order_events import held_order
from jobs.deliveries.services.received_pieces import MAX_PIECES, SomeCame
from jobs.jobs.models import Job
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.order_numbers import numbered
from jobs.orders.services.ordered_so_far import received_of
from jobs.orders.services.pieces import to_order_again
from jobs.orders.services.replacement_lines import left_short, replacement_figures
from jobs.work_up.services.job_work_up import work_of
from quoting.platform.models.columns import normalized, quantized


@dataclass(frozen=True)
class NewReplacement:
    """All that is left where neither a quantity nor numbers of pieces are said."""

    request_key: RequestKey
    quantity: SomeCame = None
    pieces: Annotated[tuple[int, ...], Items(Whole(1, MAX_PIECES), MAX_PIECES), "Their numbers on the line."] = ()


@dataclass(frozen=True)
class NeedCheck:
    """result: None while something is missing; gaps then say what. order_by: the last day from which it is in time."""

    result: ReplacementCheck | None
    gaps: tuple[str, ...]
    order_by: date | None = None

    @property
    def sentence(self) -> str:
        return self.result.sentence if self.result else " ".join(self.gaps)


def need_check(
    job: Job, material: Material, need_by: date | None, *, order_day: date, placed_at: time | None = None
) -> NeedCheck:
    """When an item ordered on a day is usable, against the day it is needed, by the terms that hold on that day."""
    book = book_of()
    calendar = calendar_with(
        book.firm.name, (*book.firm.closures, *(closure.to_core() for closure in job.closures.all()))
    )
    agreed = job.item_dates.filter(material=material).first()
    cushion = agreed.cushion_workdays if agreed else None
    # A day stands in for one nobody knows, so that the arrival is counted all the same.
    supplier_agreed = agreed.supplier_id if agreed else None
    day = need_by or order_day
    want = Want(material.code, None, "length", day, AGREED, agreed_cushion_workdays=cushion, supplier=supplier_agreed)
    need = date_want(want, book, calendar, order_day)
    term = need.dated_by
    if term is None or need.supplier is None or need.if_ordered_today is None:
        return NeedCheck(None, tuple(finding.sentence for finding in need.findings if finding.weight == "gap"))
    supplier = book.suppliers[need.supplier]
    check = replacement_check(
        order_day,
        need_by,
        term,
        cushion_workdays=need.cushion_workdays,
        firm=calendar,
        supplier=supplier.calendar,
        placed_at=placed_at,
        cut_off=supplier.order_cut_off,
    )
    return NeedCheck(check, ())


def left_to_replace(row: ReceiptLine) -> Decimal:
    """Damaged and wrong ones of a receipt that no replacement covers yet, and never more than the line still wants."""
    return normalized(min(received_of(row).bad, left_short(row.line)))


def pieces_to_replace(row: ReceiptLine) -> tuple[LinePiece, ...]:
    """The same, piece by piece; none for what is counted."""
    mine = {piece.number for piece in row.pieces.all()}
    return tuple(piece for piece in to_order_again(row.line) if piece.number in mine)


@transaction.atomic
def draft_replacement(
    row: ReceiptLine,
    *,
    request_key: str,
    quantity: Decimal | None,
    by: str,
    now: datetime,
    pieces: Collection[int] = (),
) -> tuple[Order, bool]:
    """A new order, being put together, for what came wrong or damaged; and whether it is new.

    quantity: all that no replacement covers yet where it is not said. pieces: numbers of the bad pieces, all of them
    where none is said. It costs what the first did, until the supplier says who pays. Raises Refused.
    """
    held_order(row.delivery.order_id)
    present = Order.objects.filter(request_key=request_key).first()
    if present is not None:
        if not present.lines.filter(replaces=row.line_id).exists():
            raise Refused("This request has made another order; open the page again.")
        return present, False
    row = receipts_with_parts().get(pk=row.pk)
    left, line, again = left_to_replace(row), row.line, _pieces_again(row, pieces, quantity)
    quantity = Decimal(len(again)) if again else quantity
    wanted = left if quantity is None else normalized(quantized(quantity))
    if not 0 < wanted <= left:
        reason = f"{left:f} {line.unit} of {line.what} came wrong or damaged and are not ordered again yet"
        raise Refused(f"{reason}; order that many at most." if left else f"{reason.replace(f'{left:f}', 'No', 1)}.")
    if row.outcome in (ClaimOutcome.KEPT, ClaimOutcome.CREDITED):
        raise Refused(f"They were {row.get_outcome_display().lower()}: correct that first, then order them again.")
    return _drafted(row, replacement_figures(line, wanted, again), request_key, by, now), True


def _pieces_again(row: ReceiptLine, numbers: Collection[int], quantity: Decimal | None) -> tuple[LinePiece, ...]:
    bad = pieces_to_replace(row)
    named = ", ".join(str(piece.number) for piece in bad) or "none"
    if not set(numbers) <= {piece.number for piece in bad}:
        raise Refused(f"Name pieces that came damaged or wrong and are not ordered again yet: {named}.")
    chosen = tuple(piece for piece in bad if not numbers or piece.number in numbers)
    if bad and quantity is not None and quantity != len(chosen):
        raise Refused(f"Say which pieces are ordered again, by number: {named}.")
    return chosen


def _drafted(row: ReceiptLine, figures: dict[str, Any], request_key: str, by: str, now: datetime) -> Order:
    before = row.delivery.order
    order = numbered(
        lambda number: Order.objects.create(
            number=number,
            supplier=before.supplier,
            request_key=request_key,
            note=f"In the place of what came damaged or wrong of {before} on {day_words(row.delivery.received_on)}.",
            made_at=now,
            made_by_name=by,
        )
    )
    OrderLine.objects.create(order=order, place=1, job=row.line.job, **figures)
    return order


def check_of_receipt(row: ReceiptLine, *, order_day: date, placed_at: time | None = None) -> NeedCheck:
    """Against what the job needs now, as every list of dates has it; else against the day it was ordered for."""
    line = row.line
    result = work_of(line.job, book_of(), order_day, placed_at).done
    need = next((need for need in result.needs if need.material == line.material_id), None) if result else None
    if need is None or need.if_ordered_today is None:
        return need_check(line.job, line.material, line.need_by, order_day=order_day, placed_at=placed_at)
    check = ReplacementCheck(order_day, need.if_ordered_today, need.need_by, need.late_workdays)
    return NeedCheck(check, (), need.dates.order_by if need.dates else None)
