"""Bills as rows: an entered one with a line, and one with a row in every table."""

from datetime import date
from decimal import Decimal
from typing import Any

from jobs.bills.models import AcceptedDifference, Bill, BillLine, BillPhoto
from jobs.core.costs.bills import number_key
from tests.factories.orders import BY, DAY, MARK, NOON


def bill_row(number: str = "A-1", **more: Any) -> Bill:
    """An entered bill without lines; what `more` does not say is usual."""
    count = Bill.objects.count()
    usual = {
        "request_key": f"bill-{count}",
        "shop": "" if more.get("supplier") else "Corner shop",
        "number": number,
        "number_key": number_key(number),
        "day": DAY,
        "posted_month": date(2026, 11, 1),
        "total": Decimal("0.00"),
        "made_at": NOON,
        "made_by_name": BY,
        "entered_at": NOON,
        "entered_by_name": BY,
    }
    return Bill.objects.create(**(usual | more))


def bill_line(bill: Bill, job: Any, amount: str, quantity: str = "1", **more: Any) -> BillLine:
    usual = {"category": "materials", "what": "Goods", "place": bill.lines.count() + 1}
    figures = {"quantity": Decimal(quantity), "amount": Decimal(amount), "unit_price": abs(Decimal(amount))}
    return BillLine.objects.create(bill=bill, job=job, **(usual | figures | more))


def whole_bill(job: Any) -> Bill:
    bill = bill_row(total=Decimal("10.00"))
    bill_line(bill, job, "10.00")
    AcceptedDifference.objects.create(bill=bill, sentence="Dearer", accepted_by_name=BY, accepted_at=NOON)
    size = {"size_bytes": 1, "width_px": 1, "height_px": 1, "sha256": MARK, "file_name": f"{MARK}.jpg"}
    BillPhoto.objects.create(bill=bill, added_by=BY, added_at=NOON, **size)
    return bill
