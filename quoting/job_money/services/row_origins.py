"""Who entered what stands behind a figure, and when; in one query a kind of row."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime

from jobs.bills.models import Bill
from jobs.deliveries.models import ReceiptLine
from jobs.hours.models import TimeEntry
from jobs.orders.models import Order, OrderLine
from quoting.core.money.cost_parts import CostPart, Stage


@dataclass(frozen=True)
class Origin:
    """by, on: who and when. order, bill, entry: what it stands on, None where on none."""

    by: str
    on: datetime | date
    order: int | None = None
    bill: int | None = None
    entry: int | None = None


Key = tuple[Stage, str]


def origins_of(parts: Iterable[CostPart]) -> dict[Key, Origin]:
    """By stage and row of a part; of parts that stand on no row there is none."""
    rows: dict[Stage, set[str]] = {}
    for part in parts:
        if part.row:
            rows.setdefault(part.stage, set()).add(part.row)
    return {
        **_worked(rows.get("worked", set())),
        **_billed(rows.get("billed", set())),
        **_received(rows.get("received", set())),
        **_committed(rows.get("committed", set())),
    }


def _worked(rows: Collection[str]) -> dict[Key, Origin]:
    result = TimeEntry.objects.filter(pk__in=rows).values_list("pk", "entered_by_name", "entered_at")
    return {("worked", str(pk)): Origin(by, at, entry=pk) for pk, by, at in result}


def _billed(rows: Collection[str]) -> dict[Key, Origin]:
    by_bill: dict[str, list[str]] = {}
    for row in rows:
        by_bill.setdefault(row.partition("/")[0], []).append(row)
    result = Bill.objects.filter(pk__in=by_bill).values_list("pk", "entered_by_name", "entered_at")
    return {("billed", row): Origin(by, at, bill=pk) for pk, by, at in result for row in by_bill[str(pk)]}


def _received(rows: Collection[str]) -> dict[Key, Origin]:
    """Of the latest delivery. Freight bears the number of its order, and came with its goods."""
    lines = [row for row in rows if row.isascii() and row.isdigit()]
    result = ReceiptLine.objects.filter(line__in=lines).order_by("delivery__received_on", "pk")
    text = result.values_list("line", "delivery__entered_by_name", "delivery__received_on", "delivery__order")
    goods = {("received", str(line)): Origin(by, on, order) for line, by, on, order in text}
    return {**_placed("received", set(rows) - set(lines)), **goods}


def _committed(rows: Collection[str]) -> dict[Key, Origin]:
    lines = [row for row in rows if row.isascii() and row.isdigit()]
    result = OrderLine.objects.filter(pk__in=lines).select_related("order")
    goods = {("committed", str(entry.pk)): _of_order(entry.order) for entry in result}
    return {**_placed("committed", set(rows) - set(lines)), **goods}


def _placed(stage: Stage, numbers: Collection[str]) -> dict[Key, Origin]:
    rows = Order.objects.filter(number__in=numbers)
    return {(stage, order.number): _of_order(order) for order in rows}


def _of_order(order: Order) -> Origin:
    assert order.placed_on is not None, "only placed orders commit anything"
    return Origin(order.placed_by_name, order.placed_on, order.pk)
