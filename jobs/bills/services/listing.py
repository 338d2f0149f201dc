"""Bills as lists have them, and what of a supplier waits for a bill or a credit."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet

from catalog.core.ground.money import to_cents
from catalog.models import Supplier
from jobs.bills.models import Bill
from jobs.bills.services.bill_rows import ordered_rows, standing_lines
from jobs.core.costs.received_goods import OrderedRow
from jobs.deliveries.models import ReceiptLine, ReturnedGoods
from jobs.orders.models import Order, OrderLine

STATES = ("draft", "entered", "voided")


def bills() -> QuerySet[Bill]:
    rows = Bill.objects.select_related("supplier", "reversed_by", "reverses")
    return rows.prefetch_related("lines__job", "photos").order_by("-day", "-pk")


def bills_in(state: str = "", seller: str = "") -> QuerySet[Bill]:
    """state: of STATES, all where empty. seller: code of a supplier, or name of a shop."""
    rows = bills()
    if seller:
        rows = rows.filter(Q(supplier=seller) | Q(supplier=None, shop__iexact=seller))
    voided = Q(voided_at__isnull=False) | Q(reversed_by__isnull=False)
    entered = Q(entered_at__isnull=False)
    among = {"draft": ~entered & ~voided, "entered": entered & ~voided, "voided": voided}
    return rows.filter(among[state]) if state else rows


def bills_of_order(order: Order) -> QuerySet[Bill]:
    """That stand and are matched to a line of it, or brought its freight."""
    of_order = Q(lines__order_line__order=order) | Q(lines__order=order)
    return bills_in("entered").filter(of_order, reverses=None).distinct()


@dataclass(frozen=True)
class OpenGoods:
    """Of a line of an order: so much came and is not billed. amount: as agreed, None without a price."""

    line: OrderLine
    row: OrderedRow
    quantity: Decimal
    came_on: date | None

    @property
    def amount(self) -> Decimal | None:
        return None if self.row.asked_price is None else to_cents(self.row.asked_price * self.quantity)


def open_goods(supplier: Supplier | None = None) -> list[OpenGoods]:
    """What came and waits for its bill, the longest here first; of a supplier also what is still to come, behind."""
    rows = OrderLine.objects.filter(order__placed_on__isnull=False)
    rows = rows.filter(order__supplier=supplier) if supplier else rows.filter(receipts__isnull=False).distinct()
    rows = rows.select_related("order__supplier", "material", "job")
    lines = list(
        rows.prefetch_related("receipts__delivery", "returns").order_by("order__placed_on", "order_id", "place")
    )
    goods = [
        OpenGoods(line, row, row.owed, _came_on(line)) for line, row in zip(lines, ordered_rows(lines), strict=True)
    ]
    here = sorted((entry for entry in goods if entry.quantity), key=lambda entry: entry.came_on or date.max)
    return here + [_to_come(entry) for entry in goods if supplier and not entry.quantity and entry.row.to_come]


def _came_on(line: OrderLine) -> date | None:
    return min((receipt.delivery.received_on for receipt in line.receipts.all()), default=None)


def _to_come(goods: OpenGoods) -> OpenGoods:
    return OpenGoods(goods.line, goods.row, goods.row.to_come, None)


def to_credit(supplier: Supplier) -> tuple[list[ReceiptLine], list[ReturnedGoods]]:
    """What came bad or went back, of which no credit came yet."""
    bad = Q(damaged__gt=0) | Q(wrong__gt=0) | Q(credit__isnull=False)
    receipts = ReceiptLine.objects.filter(bad, line__order__supplier=supplier, credited=None).exclude(outcome="kept")
    returned = ReturnedGoods.objects.filter(line__order__supplier=supplier)
    returned = returned.exclude(Exists(standing_lines().filter(returned=OuterRef("pk"))))
    parts: Any = ("line__order", "line__job", "line__material")
    return (
        list(receipts.exclude(outcome="refused").select_related(*parts).order_by("pk")),
        list(returned.select_related(*parts).order_by("sent_on", "pk")),
    )


def billed_lines(supplier: Supplier, most: int = 20) -> list[OrderLine]:
    """Those a bill stands for, the last billed first: their price may still come down."""
    rows = standing_lines().filter(order_line__order__supplier=supplier, quantity__gt=0).order_by("-bill__day", "-pk")
    rows = rows.select_related("order_line__order", "order_line__job")[: most * 3]
    return list({row.order_line_id: row.order_line for row in rows if row.order_line}.values())[:most]
