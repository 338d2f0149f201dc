"""What orders taught: how long they took against what was quoted, and how a supplier kept to what it promised."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date

from django.db.models import QuerySet

from catalog.core.ground.workdays import WorkCalendar
from catalog.core.leads.lead_record import MAX_ACTUAL_WORKDAYS, MAX_QUOTED_WORKDAYS, LeadReceipt
from catalog.core.leads.supplier_score import ScoredReceipt, SupplierScore, supplier_score
from catalog.models import Supplier
from catalog.services.suppliers import list_suppliers
from jobs.core.ordering.receiving import taken_workdays
from jobs.deliveries.models import EarlierLead, ReceiptLine
from jobs.orders.models import OrderLine
from jobs.orders.models.orders import OrderState

MAX_LINES = 1_000
"""The newest order lines make the record: far more than the last eight of any material."""


def lead_receipts(today: date) -> list[LeadReceipt]:
    """The firm's lead-time record, in a constant number of queries.

    A line counts once, when all of it has come, whatever state it came in; a line of which something is still to come
    counts as open, at its age. What was never quoted, or quoted for the same day, teaches nothing. Of what was brought
    in from before as many of the newest count.
    """
    before = EarlierLead.objects.order_by("-received_on", "-pk")[:MAX_LINES]
    return [*own_receipts(today, MAX_LINES), *(row.to_core() for row in before)]


def own_receipts(today: date, most: int | None = None) -> list[LeadReceipt]:
    """Of orders placed here, the newest order first."""
    calendars = {row.code: row.to_core().calendar for row in list_suppliers()}
    receipts = (_receipt(line, calendars[line.order.supplier_id], today) for line in _lines()[:most])
    return [receipt for receipt in receipts if receipt is not None]


def _lines() -> QuerySet[OrderLine]:
    rows = OrderLine.objects.filter(order__counted_from__isnull=False, quoted_workdays__range=(1, MAX_QUOTED_WORKDAYS))
    rows = rows.select_related("order").prefetch_related("receipts__delivery")
    return rows.order_by("-order__placed_on", "-pk")


def _receipt(line: OrderLine, calendar: WorkCalendar, today: date) -> LeadReceipt | None:
    last = _completing(line)
    about = {"supplier": line.order.supplier_id, "material": line.material_id, "ordered_on": line.order.placed_on}
    quoted = line.quoted_workdays
    assert quoted is not None
    if last is not None:
        return LeadReceipt(quoted, last.actual_workdays, last.delivery.received_on, **about)
    counted_from = line.order.counted_from
    # Ended or called off before it came, it says nothing of how long it would have taken.
    if line.ended_on is not None or line.order.state != OrderState.PLACED or today < counted_from:
        return None
    age = min(taken_workdays(counted_from, today, calendar), MAX_ACTUAL_WORKDAYS)
    return LeadReceipt(quoted, age, today, is_open=True, **about)


def _completing(line: OrderLine) -> ReceiptLine | None:
    """The receipt with which all had come; of a line that was ended, the last; None while more is to come."""
    receipts = sorted(line.receipts.all(), key=lambda receipt: (receipt.delivery.received_on, receipt.pk))
    so_far = 0
    for receipt in receipts:
        so_far += receipt.good + receipt.damaged + receipt.wrong
        if so_far >= line.quantity:
            return receipt
    return receipts[-1] if receipts and line.ended_on is not None else None


def scores() -> dict[str, SupplierScore]:
    """Every supplier's score by its code."""
    receipts: dict[str, list[ReceiptLine]] = defaultdict(list)
    for row in ReceiptLine.objects.select_related("delivery__order"):
        receipts[row.delivery.order.supplier_id].append(row)
    return {row.code: _score(receipts[row.code], row.to_core().calendar) for row in list_suppliers()}


def score_of(supplier: Supplier) -> SupplierScore:
    rows = ReceiptLine.objects.filter(delivery__order__supplier=supplier).select_related("delivery")
    return _score(rows, supplier.to_core().calendar)


def _score(rows: Iterable[ReceiptLine], calendar: WorkCalendar) -> SupplierScore:
    return supplier_score(
        (ScoredReceipt(row.delivery.received_on, row.promised_on, row.damaged > 0, row.wrong > 0) for row in rows),
        calendar,
    )
