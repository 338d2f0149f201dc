"""The takeoff and the order dates as plain tables for a terminal."""

from collections.abc import Sequence
from decimal import Decimal

from catalog.core.ground.plain_text import half_up, plain
from quoting.core.quotes.work_up import WorkUp
from quoting.platform.formatting import day_words, money_words

WIDEST = 46


def takeoff_table(work_up: WorkUp) -> str:
    currency = work_up.read.book.firm.currency
    rows = [
        (
            purchase.name,
            f"{_hundredths(purchase.net)} {purchase.unit}",
            f"{_hundredths(purchase.buy)} {purchase.unit}",
            ", ".join(f"{pack.count} x {pack.label}" for pack in purchase.packs),
            "price missing" if purchase.cost is None else money_words(purchase.cost, currency),
        )
        for purchase in work_up.takeoff.purchases
    ]
    return table(("Material", "Net", "Buy", "As", "Cost"), rows, right={1, 2, 4})


def _hundredths(value: Decimal) -> str:
    return plain(half_up(value, 2)) or "0"


def order_dates_table(work_up: WorkUp) -> str:
    rows = []
    for need in work_up.needs:
        if need.dates is None or need.in_hand is None:
            why = "; ".join(finding.sentence for finding in need.findings)
            rows.append((need.name, "no date", "", "", why))
            continue
        days = (need.dates.order_by, need.dates.decide_by, need.dates.need_by)
        rows.append((need.name, *(day_words(day) for day in days), f"{need.in_hand}"))
    return table(("Item", "Order by", "Decide by", "On site by", "Days in hand"), rows, right={4})


def table(head: Sequence[str], rows: Sequence[Sequence[str]], right: set[int]) -> str:
    shown = [[_short(cell) for cell in row] for row in (head, *rows)]
    widths = [max(len(row[place]) for row in shown) for place in range(len(head))]
    rule = ["-" * width for width in widths]
    lines = []
    for row in (shown[0], rule, *shown[1:]):
        cells = [
            cell.rjust(width) if place in right else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append(f"  {'  '.join(cells).rstrip()}")
    return "\n".join(lines)


def _short(text: str) -> str:
    return text if len(text) <= WIDEST else f"{text[: WIDEST - 3]}..."
