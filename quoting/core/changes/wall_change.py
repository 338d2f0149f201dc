"""A change of the walls as a change of the price: the agreed job and the job as it stands, worked up alike."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.money import share_out, to_cents
from jobs.core.measure.site_measurements import SiteMeasurements
from quoting.core.changes.change_notes import ZERO, ChangeCost, ChangeError, ChangeLine
from quoting.core.changes.days_moved import DaysMoved, days_moved
from quoting.core.changes.swaps import Swap, swaps_between
from quoting.core.prices.costs import CostLine
from quoting.core.prices.pricing import PricedQuote
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.work_up import WorkUp


@dataclass(frozen=True)
class WallChange:
    """What a change of the walls comes to.

    Args:
        lines: the difference of the two prices, on the walls that changed; on the job where none did.
        swaps: materials that took another's place.
        moved: hours, and the days by which the work is proposed to be done later.
        costs: what it costs by item; none where the lines alone say it.
    """

    lines: tuple[ChangeLine, ...]
    swaps: tuple[Swap, ...]
    moved: DaysMoved
    costs: tuple[ChangeCost, ...] = ()


def set_alike(agreed: JobFile, present: JobFile) -> tuple[JobFile, JobFile]:
    """The two jobs with everything the same but what was changed of the walls and the costs entered for them.

    Args:
        agreed: the job as it was accepted. present: the job as it stands; both must be priced (else ChangeError).

    Returns:
        Both with today's catalog (what it no longer holds as it was then), and with the margin, markups, tax and
        hour cost that were agreed, and with the chain of work as it goes now: so neither a new price, a new margin nor
        another course of the work passes as a change of a wall.

    Raises:
        ChangeError: one of them is not priced.

    Source: own rule: a change is priced at the prices of the day, by the agreed way of pricing.
    """
    if agreed.pricing is None or present.pricing is None:
        raise ChangeError("The job is not priced, so a change of its walls has no price.")
    now = present.book
    book = replace(
        now,
        suppliers={**agreed.book.suppliers, **now.suppliers},
        materials={**agreed.book.materials, **now.materials},
    )
    changed = replace(
        agreed.pricing,
        costs=present.pricing.costs,
        entered_materials=present.pricing.entered_materials,
        materials_note=present.pricing.materials_note,
    )
    start = present.job.start_on or agreed.job.start_on
    same = ("closures", "crew", "activities", "own_activities", "links", "actual_days")
    dated = replace(agreed.job, start_on=start, **{name: getattr(present.job, name) for name in same})
    return (
        replace(agreed, book=book, job=dated),
        replace(present, book=book, pricing=changed, job=replace(present.job, start_on=start)),
    )


def wall_change(before: WorkUp, after: WorkUp) -> WallChange:
    """Say what a change of the walls comes to.

    Args:
        before, after: the agreed job and the job as it stands, made alike by `set_alike` and worked up on one day.

    Returns:
        Lines, swaps and days. The lines add up to the difference of the two prices and name only walls that changed:
        what packs shared with other walls and costs of the whole job come to is shared over those, in proportion to
        their own difference.

    Raises:
        ChangeError: one of them cannot be priced; the message gives the first reason.

    Source: own rule: the difference of two worked-up jobs; nobody pays for a wall that is as it was.
    """
    was, now = _priced(before, "as it was agreed"), _priced(after, "as it stands")
    names = {wall.key: wall.name for work_up in (before, after) for wall in work_up.read.job.walls}
    changed = [key for key in names if _as_built(before, key) != _as_built(after, key)]
    old, new = _of_walls(before, was), _of_walls(after, now)
    own = [_less(new.get(key, NOTHING), old.get(key, NOTHING)) for key in changed]
    whole = _less(_of_job(now), _of_job(was))
    if changed:
        called = [_called(names[key], key in _keys(before), key in _keys(after)) for key in changed]
        parts = with_spill_over(own, whole)
    else:
        called, parts = [f"{after.read.job.title}, changed"[:200]], [whole]
    lines = [line for what, part in zip(called, parts, strict=True) for line in _lines(what, part)]
    swaps = swaps_between(before.read.job.walls, after.read.job.walls, after.read.book.materials)
    return WallChange(tuple(lines), swaps, days_moved(before, after))


Amounts = tuple[Decimal, Decimal, Decimal, Decimal]
"""Price, what of it is taxed, cost, and what of that is materials."""
NOTHING: Amounts = (ZERO, ZERO, ZERO, ZERO)


def _less(these: Amounts, those: Amounts) -> Amounts:
    price, taxed, cost, materials = (amount - other for amount, other in zip(these, those, strict=True))
    return price, taxed, cost, materials


def _of_job(priced: PricedQuote) -> Amounts:
    return priced.price, priced.taxed, priced.cost, priced.cost_by_category["materials"]


def _of_walls(work_up: WorkUp, priced: PricedQuote) -> dict[str, Amounts]:
    """Of each wall, by its key: its price, and its costs with its part of those of the whole job, as it is priced."""
    prices, costs = {line.section: line for line in priced.lines}, work_up.quote.costs if work_up.quote else ()
    names = {wall.name: wall.key for wall in work_up.read.job.walls}
    all_own = _cost([cost for cost in costs if cost.section in names])
    walls = {}
    for name, key in names.items():
        line, own = prices.get(name), [cost for cost in costs if cost.section == name]
        part = Fraction(_cost(own)) / Fraction(all_own) if all_own else Fraction(0)
        every, materials = (
            to_cents(Fraction(_cost(own, category)) + part * Fraction(_cost(_of_no_wall(costs), category)))
            for category in (None, "materials")
        )
        walls[key] = (line.price if line else ZERO, line.taxed if line else ZERO, every, materials)
    return walls


def _cost(costs: Iterable[CostLine], category: str | None = None) -> Decimal:
    return sum((cost.cost for cost in costs if category in (None, cost.category)), ZERO)


def _of_no_wall(costs: Iterable[CostLine]) -> list[CostLine]:
    return [cost for cost in costs if not cost.section]


def with_spill_over(own: Sequence[Amounts], whole: Amounts) -> list[Amounts]:
    """The walls' own differences with what is left of the whole shared over them; each column adds up to it.

    own: of each wall, at least one. whole: of the job. Amounts in whole cents, either sign. What is left is shared in
    proportion to the walls' own difference in price, alike where none has any. Source: own rule.

    >>> one = (Decimal("30.00"), Decimal("30.00"), Decimal("20.00"), ZERO)
    >>> with_spill_over([one], (Decimal("28.42"), Decimal("28.42"), Decimal("19.00"), ZERO))[0][0]
    Decimal('28.42')
    """
    weights = [abs(part[0]) for part in own]
    weights = weights if any(weights) else [Decimal(1)] * len(own)
    columns = []
    for column, total in zip(zip(*own, strict=True), whole, strict=True):
        spilled = share_out(total - sum(column, ZERO), weights)
        columns.append([mine + more for mine, more in zip(column, spilled, strict=True)])
    return list(zip(*columns, strict=True))


def _lines(what: str, part: Amounts) -> Iterable[ChangeLine]:
    """One line, or two where the materials of a wall went one way and its other costs the other."""
    price, taxed, cost, materials = part
    low, high = sorted((ZERO, price))
    if low <= taxed <= high:
        if price:
            yield ChangeLine(what, price, taxed, cost)
        return
    yield ChangeLine(f"{what}: materials", taxed, taxed, materials)
    yield ChangeLine(f"{what}: work", price - taxed, ZERO, cost - materials)


def _called(name: str, was_there: bool, is_there: bool) -> str:
    return f"{name}, {'added' if not was_there else 'changed' if is_there else 'left out'}"[:200]


def _keys(work_up: WorkUp) -> set[str]:
    return {wall.key for wall in work_up.read.job.walls}


def _as_built(work_up: WorkUp, key: str) -> object:
    """All of a wall that its price rests on: not its name, who measured it, and decisions that move no quantity."""
    wall = next((entry for entry in work_up.read.job.walls if entry.key == key), None)
    if wall is None:
        return None
    entered = work_up.read.pricing.costs if work_up.read.pricing else ()
    set_by_hand = [
        override for override in (*wall.overrides, *work_up.read.job.overrides) if override.value is not None
    ]
    quantities = {override.key: override.value for override in set_by_hand if override.key.startswith(f"{key}/")}
    trims = tuple(replace(run, need_by=None) for run in wall.trims)
    bare = replace(wall, name="", taken=SiteMeasurements(), overrides=(), trims=trims)
    return bare, quantities, [replace(cost, section="") for cost in entered if cost.section == wall.name]


def _priced(work_up: WorkUp, which: str) -> PricedQuote:
    quote = work_up.quote
    if quote is None or quote.priced is None:
        gaps = [finding.sentence for finding in (quote.findings if quote else ()) if finding.weight == "gap"]
        why = gaps[0] if gaps else "the quote says what is missing."
        raise ChangeError(f"The job {which} cannot be priced: {why}")
    return quote.priced
