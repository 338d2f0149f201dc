"""The field check: the wall as quoted beside the wall as confirmed, and every line and cost that moves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.core.book import Book
from jobs.core.assembly import WallWorkUp, work_up_wall
from jobs.core.build import WallSpec
from jobs.core.findings import Finding
from jobs.core.survey import SurveyError
from jobs.core.takeoff import Takeoff, TakeoffLine, take_off


@dataclass(frozen=True)
class MovedLine:
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
class MovedPurchase:
    """A material of which more, less or at another cost is bought.

    quoted, confirmed: to buy, in `unit`, None where nothing was. quoted_cost, confirmed_cost: money, None while a
    price is missing or nothing is bought.
    """

    material: str
    name: str
    unit: str
    quoted: Decimal | None
    confirmed: Decimal | None
    quoted_cost: Decimal | None
    confirmed_cost: Decimal | None


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


def compare(
    quoted: WallSpec,
    confirmed: WallSpec,
    book: Book,
    on_day: date,
    *,
    beside: Sequence[WallWorkUp] = (),
    board_rounds: int | None = None,
) -> FieldCheck:
    """Set a wall as confirmed on site beside the same wall as quoted.

    Args:
        quoted, confirmed: the same wall, by its key. book: the catalog for both, so that only the wall differs.
        on_day: whose prices hold. beside: the job's other walls, with which quantities merge before they are
            rounded to packs. board_rounds: of the search for a cheaper board plan, the same for both; None for all.

    Returns:
        The lines and purchases that move, and the cost of all materials on both sides.

    Raises:
        SurveyError: two different keys, or figures of either that give no wall.

    Source: own rule: both sides go through the one takeoff, so a difference is the wall's and nothing else's.

    >>> from catalog.core.specs import Firm
    >>> from catalog.core.standards import starter_standards
    >>> from jobs.core.build import FaceBuild
    >>> from jobs.core.survey import HeightProfile, StraightPiece
    >>> bare, heights = FaceBuild((), level=0), HeightProfile(((0.0, 2400.0),))
    >>> wall = WallSpec("w", "Wall", (StraightPiece(3000.0),), heights, "centre", "T", "S", bare, bare,
    ...     stud_depth_mm=92.0)
    >>> book = Book(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards())
    >>> compare(wall, wall, book, date(2026, 5, 4)).lines
    ()
    """
    if quoted.key != confirmed.key:
        raise SurveyError(
            "key",
            f'a field check sets a wall beside itself: "{quoted.key}" was quoted, "{confirmed.key}" was confirmed',
        )
    before, after = (
        take_off((work_up_wall(spec, book, on_day, board_rounds=board_rounds), *beside), book, on_day)
        for spec in (quoted, confirmed)
    )
    return compare_takeoffs(before, after)


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
    was, now = ({one.material: one for one in takeoff.purchases} for takeoff in (before, after))
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
