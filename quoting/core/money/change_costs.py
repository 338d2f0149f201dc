"""What a change of the walls costs, by item: the agreed job's cost lines against those of the job as it stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from quoting.core.changes.change_notes import ChangeCost
from quoting.core.money.quoted import QuotedCost

MILLIONTH = Decimal("0.000001")
Group = tuple[str, Fraction, Fraction]


def cost_change(before: Iterable[QuotedCost], after: Iterable[QuotedCost]) -> tuple[ChangeCost, ...]:
    """The difference of two sides, item by item.

    before, after: cost lines at the prices of one day. Returns what came to it and what left it; where one of an item
    costs otherwise now, both as they are. Unit costs are kept to a millionth, which leaves each line's cents right for
    quantities under 10,000. Source: own rule.

    >>> was = [QuotedCost("labour", "framing", "Framing", Decimal(10), Decimal(48))]
    >>> now = [QuotedCost("labour", "framing", "Framing", Decimal(12), Decimal(48))]
    >>> [(one.item, one.quantity, one.cost) for one in cost_change(was, now)]
    [('framing', Decimal('2.000000'), Decimal('96.00'))]
    """
    old, new = _groups(before), _groups(after)
    return tuple(line for key in dict.fromkeys([*old, *new]) for line in _lines(key, old.get(key), new.get(key)))


def _groups(lines: Iterable[QuotedCost]) -> dict[tuple[str, str], Group]:
    """By item: its name, quantity and cost."""
    groups: dict[tuple[str, str], Group] = {}
    for line in lines:
        key = (line.category, line.item)
        what, quantity, cost = groups.get(key, (line.what, Fraction(0), Fraction(0)))
        groups[key] = (what, quantity + Fraction(line.quantity), cost + Fraction(line.cost))
    return groups


def _lines(key: tuple[str, str], old: Group | None, new: Group | None) -> Iterator[ChangeCost]:
    if old is not None and new is not None:
        what, was, before = old
        _, now, after = new
        if before == after and was == now:
            return
        if was and now and before * now == after * was:
            yield _line(key, what, now - was, after - before)
            return
    for sign, side in ((-1, old), (1, new)):
        if side is not None and side[2]:
            yield _line(key, side[0], sign * side[1], sign * side[2])


def _line(key: tuple[str, str], what: str, quantity: Fraction, cost: Fraction) -> ChangeCost:
    category, item = key
    shown = "" if what == item else what
    return ChangeCost(category, item, _rounded(quantity), _rounded(cost / quantity), what=shown)


def _rounded(value: Fraction) -> Decimal:
    return (Decimal(value.numerator) / Decimal(value.denominator)).quantize(MILLIONTH, ROUND_HALF_UP)
