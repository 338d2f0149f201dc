"""What credits settle: the credit of what came bad or went back is filled from the lines that name it."""

from collections.abc import Iterable
from datetime import date

from catalog.services.row_sync import save_if_changed
from jobs.bills.models import BillLine
from jobs.bills.services.bill_rows import standing_lines
from jobs.core.costs.bills import NOTHING
from jobs.deliveries.models import ReceiptLine, ReturnedGoods


def fill_credited(lines: Iterable[BillLine], day: date) -> None:
    """lines: of a credit that came or was voided, on that day."""
    for line in lines:
        if line.receipt_id is not None:
            _fill(ReceiptLine.objects.select_for_update().get(pk=line.receipt_id), day, receipt=line.receipt_id)
        if line.returned_id is not None:
            _fill(ReturnedGoods.objects.select_for_update().get(pk=line.returned_id), day, returned=line.returned_id)


def _fill(row: ReceiptLine | ReturnedGoods, day: date, **named: int) -> None:
    amount = sum(standing_lines().filter(**named).values_list("amount", flat=True), NOTHING)
    credited = None if not amount else -amount
    if credited is None:
        save_if_changed(row, {"credited": None, "credited_on": None})
    else:
        save_if_changed(row, {"credited": credited, "credited_on": row.credited_on or day})
