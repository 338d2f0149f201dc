"""What of each item is on orders, and how much of it is still to be ordered, from the lines of its job."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from jobs.core.ordering.goods_on_order import LineComing
from jobs.core.ordering.open_quantity import CarriedLine, LeftToOrder, left_to_order
from jobs.core.ordering.order_lines import counted_words
from jobs.core.ordering.receiving import Received
from jobs.orders.models import OrderLine, OrderState
from quoting.platform.models.columns import normalized, quantized
from quoting.platform.read_once import read_once

ItemKey = tuple[int, str]
KEPT = "kept"
"""Outcome of a claim after which goods are used as they are; what came of lines is known to the room above."""
Statement = Mapping[str, Any]
"""The document of an `OrderStatement`; empty where nothing is stated."""


@dataclass(frozen=True)
class OrderedSoFar:
    """lines: of the item, the first ordered first, without those that replace others. balance: how they cover it.
    again: those that replace others.
    """

    lines: tuple[OrderLine, ...]
    balance: LeftToOrder
    again: tuple[OrderLine, ...] = ()

    @property
    def every(self) -> tuple[OrderLine, ...]:
        return (*self.lines, *self.again)

    @property
    def is_covered(self) -> bool:
        return self.balance.is_covered


def ordered_so_far(wanted: Mapping[ItemKey, Statement], *, with_drafts: bool = False) -> dict[ItemKey, OrderedSoFar]:
    """Of items that have any line; wanted: what an order of each would state now. In four queries at most.

    with_drafts: lines of orders still being put together count as well.
    """
    states = (OrderState.PLACED, *([OrderState.DRAFT] if with_drafts else []))
    jobs = {job for job, _ in wanted}
    known: dict[int, list[OrderLine]] = read_once(("order lines", states), dict)
    if missing := [job for job in jobs if job not in known]:
        known |= {job: [] for job in missing}
        rows = OrderLine.objects.filter(order__state__in=states, job__in=missing)
        for row in rows.select_related("order").prefetch_related("receipts", "returns").order_by("pk"):
            known[row.job_id].append(row)
    return _by_item((row for job in jobs for row in known[job]), wanted)


def without_line(wanted: Statement, line: OrderLine) -> LeftToOrder:
    """How much of a line's item is left for that line, all others counted, drafts as well."""
    key = (line.job_id, line.material_id)
    rows = OrderLine.objects.filter(job=line.job_id, material=line.material_id).exclude(pk=line.pk)
    rows = (
        rows.exclude(order__state=OrderState.CALLED_OFF).select_related("order").prefetch_related("receipts", "returns")
    )
    so_far = _by_item(rows.order_by("pk"), {key: wanted}).get(key)
    return so_far.balance if so_far else _left(wanted, ())


def _by_item(rows: Iterable[OrderLine], wanted: Mapping[ItemKey, Statement]) -> dict[ItemKey, OrderedSoFar]:
    roots: dict[ItemKey, list[OrderLine]] = defaultdict(list)
    again: dict[int, list[OrderLine]] = defaultdict(list)
    for row in rows:
        if row.replaces_id is not None:
            again[row.replaces_id].append(row)
        elif (row.job_id, row.material_id) in wanted:
            roots[row.job_id, row.material_id].append(row)
    return {
        key: OrderedSoFar(
            tuple(lines),
            _left(wanted[key], [carried_line(line, wanted[key], again) for line in lines]),
            tuple(_replacements(lines, again)),
        )
        for key, lines in roots.items()
    }


def _replacements(lines: Iterable[OrderLine], again: Mapping[int, list[OrderLine]]) -> Iterator[OrderLine]:
    for line in lines:
        for replacement in again.get(line.pk, ()):
            yield from (replacement, *_replacements([replacement], again))


def _left(wanted: Statement, lines: Collection[CarriedLine]) -> LeftToOrder:
    quantity = wanted.get("quantity")
    # As a line keeps it: a billionth more than was ordered is nothing to order.
    figure = None if quantity is None else normalized(quantized(Decimal(quantity)))
    return left_to_order(figure, _unit(wanted.get("unit", "")), lines)


def carried_line(
    row: OrderLine, wanted: Statement | None = None, again: Mapping[int, list[OrderLine]] | None = None
) -> CarriedLine:
    """wanted: what is wanted now, None where nothing is compared. again: lines that replace others, by id of those."""
    again = again or {}
    came = [received_of(receipt) for receipt in row.receipts.all()]
    return CarriedLine(
        normalized(row.quantity),
        normalized(sum((receipt.usable for receipt in came), Decimal(0))),
        _unit(row.unit) if wanted is None else _unit_beside(row, wanted),
        row.ended_on is not None,
        tuple(carried_line(replacement, wanted, again) for replacement in again.get(row.pk, ())),
        normalized(sum((receipt.bad for receipt in came), Decimal(0))),
        normalized(sum((goods.quantity for goods in row.returns.all()), Decimal(0))),
    )


def line_coming(line: OrderLine) -> LineComing:
    day = line.promised_on or line.quoted_dock_on
    return LineComing(line.pk, carried_line(line).expected, day, line.promised_on is not None)


def received_of(receipt: Any) -> Received:
    """What is kept as it is counts as good."""
    return Received(receipt.good, receipt.damaged, receipt.wrong, kept=receipt.outcome == KEPT)


def _unit_beside(row: OrderLine, wanted: Statement) -> str:
    """A stick of another length is another thing, though both are counted in sticks."""
    unit, theirs, ours = _unit(row.unit), _labels(row.statement), _labels(wanted)
    return f"{unit} of {', '.join(sorted(theirs))}" if theirs and ours and theirs != ours else unit


def _unit(word: str) -> str:
    return counted_words(word, 2)


def _labels(statement: Statement) -> set[str]:
    return {pack["label"] for pack in statement.get("packs", ())}
