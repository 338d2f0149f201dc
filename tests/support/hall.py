"""Orders and receipts of the worked job of a hall, with another job's goods on the first order."""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from catalog.models import Firm, Material
from jobs.bills.models import Bill
from jobs.bills.services.entering import enter_bill
from jobs.bills.services.voiding import void_bill
from jobs.deliveries.models import Delivery, ReceiptLine
from jobs.jobs.models import Job
from jobs.orders.models import Order, OrderLine
from quoting.platform.people.signatures import Signature
from tests.factories.catalog import MaterialFactory, SupplierFactory
from tests.factories.jobs import JobFactory
from tests.factories.orders import BY, MARK, NOON

DAY = date(2026, 9, 14)
CAME = date(2026, 9, 21)
# code, ordered, price, received
FIRST = (("TRACK", 12, "46.50", 12), ("STUD", 66, "11.25", 66), ("BOARD", 40, "19.10", 24))


def an_order(number: str, supplier: Any, freight: str | None = None) -> Order:
    placed = {"placed_at": NOON, "placed_on": DAY, "counted_from": DAY, "placed_by_name": BY}
    made = {"state": "placed", "way": "other", "made_at": NOON, "made_by_name": BY}
    return Order.objects.create(number=number, supplier=supplier, request_key=number, freight=freight, **made, **placed)


def a_line(order: Order, job: Job, code: str, quantity: int, price: str | None, **more: Any) -> OrderLine:
    material = Material.objects.filter(code=code).first() or MaterialFactory(code=code, name=code.capitalize())
    amount = None if price is None else quantity * Decimal(price)
    figures = {"quantity": quantity, "unit_price": price, "amount": amount, "unit": "pieces", "statement_mark": MARK}
    place = order.lines.count() + 1
    return OrderLine.objects.create(
        order=order, place=place, job=job, material=material, what=material.name, **figures, **more
    )


def came(line: OrderLine, good: int = 0, **more: Any) -> ReceiptLine:
    """One delivery a receipt."""
    key = f"came-{ReceiptLine.objects.count()}"
    delivery = Delivery.objects.create(
        order=line.order, request_key=key, received_on=CAME, entered_at=NOON, entered_by_name=BY
    )
    return ReceiptLine.objects.create(delivery=delivery, line=line, good=good, actual_workdays=5, **more)


class Hall:
    """The job, the other one, the yard and the mill, the lines of the three orders by code."""

    def __init__(self) -> None:
        about = {"name": "Bowsprit Walls", "time_zone": "America/Toronto", "currency": "USD"}
        Firm.objects.get_or_create(
            pk=1, defaults=about | {"display_units": "imperial", "cushion_workdays": 3, "sign_off_workdays": 5}
        )
        self.job, self.other = JobFactory(key="J-0201", title="Hall"), JobFactory(key="J-0202", title="Other")
        self.yard, self.mill = SupplierFactory(code="YARD", name="The yard"), SupplierFactory(code="MILL", name="Mill")
        self.first, self.second = an_order("P-1", self.yard, "96.00"), an_order("P-2", self.mill, "85.00")
        self.lines = {code: a_line(self.first, self.job, code, count, price) for code, count, price, _ in FIRST}
        self.lines["PANEL"] = a_line(self.first, self.other, "PANEL", 1, "640.00")
        self.lines["BASE"] = a_line(self.second, self.job, "BASE", 9, "218.00")
        for code, _, _, count in FIRST:
            came(self.lines[code], count)
        came(self.lines["PANEL"], 1)
        self.damaged = came(self.lines["BASE"], 8, damaged=1)
        self.third = an_order("P-3", self.mill, "35.00")
        self.again = a_line(self.third, self.job, "BASE", 1, "0.00", replaces=self.lines["BASE"])
        self.niche = a_line(an_order("P-5", self.yard), self.job, "NICHE", 1, "352.00")
        self.painter = a_line(an_order("P-6", self.yard), self.job, "PAINTER", 1, "1900.00")


NOW = datetime(2026, 10, 5, 15, 0, tzinfo=UTC)
OFFICE = Signature("I. Quarrell", date(2026, 10, 5))


def own(job: str, amount: str, **more: Any) -> dict[str, Any]:
    """A line of a small purchase."""
    return {"job": job, "category": "materials", "what": "Sundries", "amount": amount, **more}


def first_bill(**more: Any) -> dict[str, Any]:
    """A-771: track, studs, the other job's goods, all freight of P-1."""
    lines = [
        {"order": "P-1", "place": 1, "quantity": "12", "amount": "558.00"},
        {"order": "P-1", "place": 2, "quantity": "66", "amount": "742.50"},
        {"order": "P-1", "place": 4, "quantity": "1", "amount": "640.00"},
    ]
    # 558.00 + 742.50 + 640.00 + 96.00 = 2,036.50
    about = {"request_key": "a771", "supplier": "YARD", "number": "A-771", "day": "2026-09-28"}
    return {**about, "freight": "96.00", "total": "2036.50", "lines": lines, **more}


def boards_bill(**more: Any) -> dict[str, Any]:
    """A-779: 24 boards, 6.00 dearer than ordered."""
    lines = [{"order": "P-1", "place": 3, "quantity": "24", "unit_price": "19.35"}]
    about = {"request_key": "a779", "supplier": "YARD", "number": "A-779", "day": "2026-09-28"}
    return {**about, "total": "464.40", "lines": lines, **more}


DEARER = "Board, P-1: 464.40 for 24, 458.40 agreed."


def base_bill(**more: Any) -> dict[str, Any]:
    """B-2041: all nine lengths, of which eight came good."""
    lines = [{"order": "P-2", "place": 1, "quantity": "9", "amount": "1962.00"}]
    about = {"request_key": "b2041", "supplier": "MILL", "number": "B-2041", "day": "2026-09-28"}
    accept = ["Base, P-2: 9 billed in all, 8 came good."]
    return {**about, "freight": "85.00", "total": "2047.00", "lines": lines, "accept": accept, **more}


def credit_note(amount: str = "218.00", **more: Any) -> dict[str, Any]:
    about = {"request_key": "c1", "kind": "credit", "supplier": "MILL", "number": "C-1", "day": "2026-10-01"}
    return {**about, "total": amount, "lines": [{"quantity": "1", "amount": amount, **more}]}


def entered(document: dict[str, Any], signature: Signature = OFFICE) -> Bill:
    return enter_bill(document, signature, now=NOW)[0]


def voided(bill: Bill, reason: str = "Entered twice", signature: Signature = OFFICE) -> Bill:
    return void_bill(bill, {"reason": reason}, signature, seen_version=bill.version, now=NOW)[0]
