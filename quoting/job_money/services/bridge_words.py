"""A cause of lost margin in words that name steps, items, orders and days."""

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.money import to_cents
from quoting.core.money.bridge import Bridge, BridgeCause, BridgePart, BridgeStep
from quoting.core.money.cost_parts import CostPart
from quoting.platform import screen_days

CAUSE_WORDS: dict[BridgeCause, str] = {
    "hours": "Hours",
    "wage": "Wage",
    "quantity": "Quantity",
    "price": "Price",
    "freight": "Freight",
    "rework": "Rework",
    "late": "Late",
    "unforeseen": "Unforeseen",
    "unbilled": "Unbilled",
    "overhead": "Overhead",
    "contingency": "Contingency",
}
MAX_NAMED = 3
DayWords = Callable[[date], str]


def says(step: BridgeStep, day_words: DayWords = screen_days.day_words) -> str:
    """Such as: 10 h over: Boards 5 h, Framing 4 h, Setting out 1 h. day_words: how days are written there."""
    if step.cause == "hours":
        over = sum((part.quantity for part in step.parts), Fraction(0))
        word = "over" if over > 0 else "under"
        return (
            f"{plain(abs(over))} h {word}: {_listed(step.parts, lambda part: f'{part.what} {plain(part.quantity)} h')}"
        )
    if step.cause == "quantity":
        return _listed(step.parts, lambda part: f"{part.what} {signed(part.quantity)}")
    if step.cause in ("wage", "overhead", "contingency"):
        return _listed(step.parts, lambda part: f"{part.what} {part.amount:,}")
    if step.cause == "price":
        return _listed(step.parts, lambda part: f"{part.what} {part.amount:,}{_from(part.rows)}")
    rows = sorted((row for part in step.parts for row in part.rows if row.amount), key=lambda row: -abs(row.amount))
    return _joined([row_words(row, day_words) for row in rows])


def row_words(row: CostPart, day_words: DayWords = screen_days.day_words) -> str:
    """One row as a line names it, with its day where it has one."""
    day = f", {day_words(row.day)}" if row.day else ""
    if row.stage == "worked":
        return f"{plain(row.quantity)} h {row.what}{day}"
    return f"{row.what}{day}"


def lead(bridge: Bridge, *, is_closed: bool) -> tuple[str, str]:
    """What a job makes and what was quoted; and what took the most, empty where nothing was lost."""
    word = "made" if is_closed else "expected"
    first = f"{bridge.margin} % {word}; {bridge.quoted_margin} % was quoted."
    worst = max(bridge.steps, key=lambda step: step.points, default=None)
    if worst is None or worst.points <= 0 or bridge.lost <= 0:
        return first, ""
    return first, f"{CAUSE_WORDS[worst.cause]} took the most: {worst.points} points."


def plain(number: Fraction) -> str:
    """Hours and pieces to a hundredth, without needless digits.

    >>> plain(Fraction(5)), plain(Fraction(25, 2))
    ('5', '12.5')
    """
    return format(to_cents(number).normalize() + Decimal(0), "f")


def signed(number: Fraction) -> str:
    return f"+{plain(number)}" if number > 0 else plain(number)


def _from(rows: Sequence[CostPart]) -> str:
    named = list(dict.fromkeys(row.what.partition(": ")[0] for row in rows if row.stage != "to_go" and row.row))
    return f" ({', '.join(named[:2])})" if named else ""


def _listed(parts: Sequence[BridgePart], says_one: Callable[[BridgePart], str]) -> str:
    return _joined([says_one(part) for part in sorted(parts, key=lambda part: -abs(part.amount))])


def _joined(named: Iterable[str]) -> str:
    every = list(named)
    more = f" and {len(every) - MAX_NAMED} more" if len(every) > MAX_NAMED else ""
    return f"{', '.join(every[:MAX_NAMED])}{more}"
