"""What a job cost until now, and what its orders commit it to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.day_words import day_words
from catalog.core.ground.money import to_cents
from jobs.core.costs.bills import BillRow
from jobs.core.costs.hours import HourRow
from jobs.core.costs.received_goods import (
    OrderedFreight,
    OrderedRow,
    committed,
    freight_committed,
    freight_received,
    received_not_billed,
)
from jobs.core.costs.tags import REWORK
from quoting.core.money.cost_parts import CostPart, Gap, Stage
from quoting.core.money.quoted import FREIGHT, Agreed, AgreedItem, ItemNames

Found = Iterator[CostPart | Gap]


def worked(hours: Iterable[HourRow]) -> Found:
    """Labour: each row at the rate frozen at its entry.

    Source: own rule. Yields parts, and a gap for each row without a rate.
    """
    for row in hours:
        step = row.step or ""
        if row.rate is None:
            yield Gap(
                "no_rate",
                step,
                f"No rate was known for {row.worker} on {day_words(row.day)}: these hours cost nothing yet.",
                row.row,
            )
        yield CostPart(
            "worked", "labour", step, row.worker, Fraction(row.minutes, 60), row.cost, row.tag, row.row, row.day
        )


def billed(bills: Iterable[BillRow], ordered: Iterable[OrderedRow], names: ItemNames) -> Found:
    """Bill lines and credits, as billed; one matched to a line that replaces bad goods is rework.

    Source: own rule. Yields parts.
    """
    replacing = {row.row for row in ordered if row.replaces}
    for row in bills:
        replaces = row.order_line in replacing
        tag = row.tag or (REWORK if replaces else "")
        what, item = f"{row.supplier} {row.bill}: {row.what}", names.item(row.category, row.item, row.what)
        quantity = Fraction(row.quantity)
        yield CostPart(
            "billed", row.category, item, what, quantity, row.amount, tag, row.row, row.day, row.bill, replaces=replaces
        )


def on_order(ordered: Iterable[OrderedRow], agreed: Agreed, names: ItemNames) -> Found:
    """Goods here without a bill, and goods still to come, each at its price.

    Source: own rule; a line without a price is taken at its quoted cost and named. Yields parts and gaps.
    """
    for row in ordered:
        item = names.item(row.category, row.item, row.what)
        stages: tuple[tuple[Stage, Decimal, Decimal | None], ...] = (
            ("received", row.owed, received_not_billed(row)),
            ("committed", row.to_come, committed(row)),
        )
        for stage, quantity, amount in stages:
            if not quantity:
                continue
            source = row.price_source
            if amount is None:
                amount, source = _quoted_amount(agreed.get((row.category, item)), quantity), "no price"
                yield Gap("no_price", item, _no_price(row, amount), row.row)
            tag, what = REWORK if row.replaces else "", f"{row.order}: {row.what}"
            yield CostPart(
                stage,
                row.category,
                item,
                what,
                Fraction(quantity),
                amount,
                tag,
                row.row,
                None,
                source,
                replaces=row.replaces,
            )


def freight_on_order(freight: Iterable[OrderedFreight]) -> Found:
    """Freight and rush fees of orders, committed until goods come, then received until billed.

    Source: own rule. Yields parts.
    """
    for entry in freight:
        stages: tuple[tuple[Stage, Decimal], ...] = (
            ("received", freight_received(entry)),
            ("committed", freight_committed(entry)),
        )
        for stage, amount in stages:
            if amount:
                tag = REWORK if entry.replaces else ""
                yield CostPart(
                    stage, FREIGHT, FREIGHT, f"{entry.order}: freight", Fraction(1), amount, tag, entry.order
                )


def _quoted_amount(item: AgreedItem | None, quantity: Decimal) -> Decimal:
    return to_cents(Fraction(quantity) * item.unit_cost) if item else Decimal("0.00")


def _no_price(row: OrderedRow, amount: Decimal) -> str:
    taken = f"it counts at its quoted cost, {amount:,}" if amount else "it counts as zero"
    return f"{row.order}: {row.what} has no price; {taken}. Enter the price."
