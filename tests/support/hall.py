"""Orders and receipts of the worked job of a hall, with another job's goods on the first order."""

from datetime import date
from decimal import Decimal
from typing import Any

from catalog.models import Material
from jobs.deliveries.models import Delivery, ReceiptLine
from jobs.jobs.models import Job
from jobs.orders.models import Order, OrderLine
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
