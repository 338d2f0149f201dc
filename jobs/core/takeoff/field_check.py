"""The field check: the wall as quoted beside the wall as confirmed, and every line and cost that moves."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from catalog.core.ground.declared import View
from jobs.core.measure.findings import Finding
from jobs.core.takeoff.takeoff import Cost, Takeoff, TakeoffLine


@dataclass(frozen=True)
class MovedLine(View):
    """A takeoff line that is not what it was. quoted, confirmed: in `unit`, None where the line is not there."""

    key: str
    label: str
    material: str
    unit: str
    quoted: Decimal | None
    confirmed: Decimal | None

    @property
    def difference(self) -> Decimal:
        """Confirmed less quoted, a line that is not there counting as none of it.

        >>> MovedLine("w/tape", "Tape", "T", "m", Decimal("10.5"), Decimal(12)).difference
        Decimal('1.5')
        """
        return (self.confirmed or Decimal(0)) - (self.quoted or Decimal(0))


@dataclass(frozen=True)
class MovedPurchase(View):
    """A material of which more, less or at another cost is bought.

    quoted, confirmed: to buy, in `unit`, None where nothing was. quoted_cost, confirmed_cost: money, None while a
    price is missing or nothing is bought.
    """

    material: str
    name: str
    unit: str
    quoted: Decimal | None
    confirmed: Decimal | None
    quoted_cost: Cost | None
    confirmed_cost: Cost | None


@dataclass(frozen=True)
class FieldCheck:
    """What a confirmed wall changes.

    lines: that move, in the order of the quoted takeoff, new ones last. purchases: that move. quoted_cost,
    confirmed_cost: of all materials of the job, money, None while a gap is open. findings: of the confirmed job that
    the quoted one did not have.
    """

    lines: tuple[MovedLine, ...]
    purchases: tuple[MovedPurchase, ...]
    quoted_cost: Decimal | None
    confirmed_cost: Decimal | None
    findings: tuple[Finding, ...]

    @property
    def cost_difference(self) -> Decimal | None:
        """Confirmed less quoted, money; None while either has a gap.

        >>> FieldCheck((), (), Decimal("100.00"), Decimal("108.50"), ()).cost_difference
        Decimal('8.50')
        """
        if self.quoted_cost is None or self.confirmed_cost is None:
            return None
        return self.confirmed_cost - self.quoted_cost


def compare_takeoffs(before: Takeoff, after: Takeoff) -> FieldCheck:
    """Set two takeoffs of one job side by side, the wall as quoted in the first, as confirmed in the second.

    Args:
        before, after: taken off with one catalog on one day, so that only the wall differs.

    Returns:
        The lines and purchases that move, and the cost of all materials on both sides.

    Raises:
        nothing.

    Source: own rule.

    >>> nothing = Takeoff((), (), ())
    >>> compare_takeoffs(nothing, nothing).cost_difference
    Decimal('0.00')
    """
    known = {finding.key for finding in before.findings}
    return FieldCheck(
        _moved_lines(before, after),
        _moved_purchases(before, after),
        before.cost,
        after.cost,
        tuple(finding for finding in after.findings if finding.key not in known),
    )


def _moved_lines(before: Takeoff, after: Takeoff) -> tuple[MovedLine, ...]:
    was, now = ({line.key: line for line in takeoff.lines} for takeoff in (before, after))
    return tuple(
        _moved_line(was.get(key), now.get(key))
        for key in dict.fromkeys((*was, *now))
        if _figures(was.get(key)) != _figures(now.get(key))
    )


def _figures(line: TakeoffLine | None) -> tuple[str, Decimal] | None:
    return None if line is None else (line.material, line.net)


def _moved_line(was: TakeoffLine | None, now: TakeoffLine | None) -> MovedLine:
    shown = now or was
    if shown is None:
        raise AssertionError("a moved line stands on one side at least")
    return MovedLine(
        shown.key, shown.label, shown.material, shown.unit, was.net if was else None, now.net if now else None
    )


def _moved_purchases(before: Takeoff, after: Takeoff) -> tuple[MovedPurchase, ...]:
    was, now = ({purchase.material: purchase for purchase in takeoff.purchases} for takeoff in (before, after))
    moved = []
    for code in dict.fromkeys((*was, *now)):
        old, new = was.get(code), now.get(code)
        shown = new or old
        if shown is None or (old and new and (old.buy, old.cost) == (new.buy, new.cost)):
            continue
        moved.append(
            MovedPurchase(
                code,
                shown.name,
                shown.unit,
                old.buy if old else None,
                new.buy if new else None,
                old.cost if old else None,
                new.cost if new else None,
            )
        )
    return tuple(moved)
