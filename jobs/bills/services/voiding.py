"""A wrong bill voided under a name: in its place while its month is open, else taken back in the first open month."""

from datetime import datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import read
from catalog.core.ground.reasons import WhyTakenBack
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.bills.models import Bill, BillLine
from jobs.bills.services.credits import fill_credited
from jobs.orders.models import Order
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import month_to_post

KEPT = ("kind", "supplier", "shop", "number", "number_key", "day", "due", "tax", "freight", "total")
LINE_KEPT = ("place", "job", "category", "item", "what", "unit_price", "tag", "order_line", "order")


class BillVoid(WhyTakenBack):
    """Why the bill is wrong."""


def void_bill(
    bill: Bill, document: dict[str, Any], signature: Signature, *, seen_version: int, now: datetime
) -> tuple[Bill, bool]:
    """document: as `BillVoid`. Safe to repeat. Returns the bill, and whether something was done.

    Raises DocumentError, and Refused where somebody changed it since or it takes another back itself.
    """
    with transaction.atomic():
        _hold(bill)
        bill = Bill.objects.select_for_update(of=("self",)).select_related("reversed_by").get(pk=bill.pk)
        reason = read(BillVoid, entry_reader(document)).reason.strip()
        if bill.is_voided:
            return bill, False
        if bill.version != seen_version:
            raise Refused("Somebody changed this bill since you opened it: open it again.")
        if bill.reverses_id is not None:
            raise Refused("This reverses another bill. Enter that bill again instead.")
        posted = bill.posted_month and month_to_post(bill.posted_month)
        if posted == bill.posted_month:
            changes = {"voided_at": now, "voided_by_name": signature.by, "void_reason": reason}
            save_if_changed(bill, {**changes, "version": bill.version + 1})
        else:
            bill.reversed_by = _taken_back(bill, posted, reason, signature, now)
        fill_credited(bill.lines.all(), signature.on)
        return bill, True


def _hold(bill: Bill) -> None:
    orders = set(bill.lines.values_list("order_line__order", flat=True)) | set(
        bill.lines.values_list("order", flat=True)
    )
    rows = Order.objects.select_for_update(of=("self",)).filter(pk__in=orders - {None})
    list(rows.order_by("pk").values_list("pk"))


def _taken_back(bill: Bill, posted: Any, reason: str, signature: Signature, now: datetime) -> Bill:
    """Every line once more, the other way: what was closed stays as it was."""
    back = Bill.objects.create(
        request_key=f"takes back {bill.pk}",
        reverses=bill,
        again=bill.again,
        posted_month=posted,
        note=reason,
        made_at=now,
        made_by_name=signature.by,
        entered_at=now,
        entered_by_name=signature.by,
        **{name: getattr(bill, name) for name in KEPT},
    )
    BillLine.objects.bulk_create(
        BillLine(
            bill=back,
            quantity=-line.quantity,
            amount=-line.amount,
            tax=-line.tax,
            receipt=line.receipt,
            returned=line.returned,
            **{name: getattr(line, name) for name in LINE_KEPT},
        )
        for line in bill.lines.all()
    )
    return back
