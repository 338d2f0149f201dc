"""A change of the walls as a change of the price: the agreed job and the job as it stands, worked up alike."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from catalog.core.ground.workdays import WorkCalendar
from catalog.core.materials.specs import Material
from jobs.core.measure.curve import FACES
from jobs.core.measure.wall_spec import WallSpec
from quoting.core.changes.change_notes import ZERO, ChangeError, ChangeLine
from quoting.core.prices.tax import PriceLine
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.work_up import WorkUp


@dataclass(frozen=True)
class Swap:
    """One material where another was agreed. wall: its name. where: the part of the wall. original, replacement:
    names of materials."""

    wall: str
    where: str
    original: str
    replacement: str

    @property
    def sentence(self) -> str:
        """In words for the paper.

        >>> Swap("Screen", "base, desk side", "Base A", "Base B").sentence
        'Screen, base, desk side: Base B in place of Base A.'
        """
        return f"{self.wall}, {self.where}: {self.replacement} in place of {self.original}."


@dataclass(frozen=True)
class WallChange:
    """What a change of the walls comes to.

    Args:
        lines: the price of each wall now less what it was, walls without a difference left out.
        swaps: materials that took another's place.
        days_moved: working days by which the work is done later, negative for sooner; None when either job cannot
            be dated.
    """

    lines: tuple[ChangeLine, ...]
    swaps: tuple[Swap, ...]
    days_moved: int | None


def is_named(swap: Swap, text: str) -> bool:
    """Whether words typed by somebody name the material that took another's place.

    swap: the material and its place. text: as typed; letters' case and spaces make no difference.
    Source: own rule.

    >>> is_named(Swap("Screen", "base", "Base A", "Base B"), "the base  b, painted")
    True
    """
    wanted, said = (" ".join(one.casefold().split()) for one in (swap.replacement, text))
    return bool(wanted) and wanted in said


def set_alike(agreed: JobFile, present: JobFile) -> tuple[JobFile, JobFile]:
    """The two jobs with everything the same but what was changed of the walls and the costs entered for them.

    Args:
        agreed: the job as it was accepted. present: the job as it stands; both must be priced (else ChangeError).

    Returns:
        Both with today's catalog (what it no longer holds as it was then), and with the margin, markups, tax and
        hour cost that were agreed: so neither a new price nor a new margin passes as a change of a wall.

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
    dated = replace(agreed.job, start_on=start, closures=present.job.closures, crew=present.job.crew)
    return (
        replace(agreed, book=book, job=dated),
        replace(present, book=book, pricing=changed, job=replace(present.job, start_on=start)),
    )


def wall_change(before: WorkUp, after: WorkUp) -> WallChange:
    """Say what a change of the walls comes to.

    Args:
        before, after: the agreed job and the job as it stands, made alike by `set_alike` and worked up on one day.

    Returns:
        Lines, swaps and days.

    Raises:
        ChangeError: one of them cannot be priced; the message gives the first reason.

    Source: own rule: the difference of two worked-up jobs.
    """
    old, new = _prices(before, "as it was agreed"), _prices(after, "as it stands")
    lines: list[ChangeLine] = []
    for name, key in _names(before, after, (*old, *new)).items():
        was, now = old.get(key), new.get(key)
        price = (now.price if now else ZERO) - (was.price if was else ZERO)
        taxed = (now.taxed if now else ZERO) - (was.taxed if was else ZERO)
        if price or taxed:
            lines.extend(_lines(_told(name, was, now), price, taxed))
    swaps = swaps_between(before.read.job.walls, after.read.job.walls, after.read.book.materials)
    return WallChange(tuple(lines), swaps, days_between(before.plan.finish, after.plan.finish, after.calendar))


def _lines(what: str, price: Decimal, taxed: Decimal) -> Iterable[ChangeLine]:
    """One line, or two where the materials of a wall went one way and its other costs the other."""
    low, high = sorted((ZERO, price))
    if low <= taxed <= high:
        yield ChangeLine(what, price, taxed)
        return
    yield ChangeLine(f"{what}: materials", taxed, taxed)
    yield ChangeLine(f"{what}: work", price - taxed, ZERO)


def _told(name: str, was: PriceLine | None, now: PriceLine | None) -> str:
    if was is None:
        return f"{name}, added"[:200]
    return (f"{name}, left out" if now is None else f"{name}, changed")[:200]


def _prices(done: WorkUp, which: str) -> dict[str, PriceLine]:
    quote = done.quote
    if quote is None or quote.priced is None:
        gaps = [one.sentence for one in (quote.findings if quote else ()) if one.weight == "gap"]
        why = gaps[0] if gaps else "the quote says what is missing."
        raise ChangeError(f"The job {which} cannot be priced: {why}")
    keys = {wall.name: wall.key for wall in done.read.job.walls}
    return {keys.get(line.section, f"/{line.section}"): line for line in quote.priced.lines}


def _names(before: WorkUp, after: WorkUp, keys: Iterable[str]) -> dict[str, str]:
    """What each line is called now, or was, in the order of the walls; a line of the whole job by its own name."""
    called = {wall.key: wall.name for done in (before, after) for wall in done.read.job.walls}
    return {called.get(key, key.removeprefix("/")): key for key in dict.fromkeys(keys)}


def days_between(before: date | None, after: date | None, calendar: WorkCalendar) -> int | None:
    """Working days from one finish to another, negative when the second is sooner; None when one is not known.

    before, after: days. calendar: of the firm on this job.
    Source: own convention.

    >>> from catalog.core.ground.workdays import calendar_with
    >>> days_between(date(2027, 1, 8), date(2027, 1, 12), calendar_with("The firm"))
    2
    """
    if before is None or after is None:
        return None
    return calendar.workdays_between(before, after)


def swaps_between(
    before: Iterable[WallSpec], after: Iterable[WallSpec], materials: Mapping[str, Material]
) -> tuple[Swap, ...]:
    """Materials that took another's place on walls that stand in both jobs.

    before, after: the walls. materials: by code, for their names. Returns the swaps wall by wall; a layer or a run
    of trim that is new or gone is none. Source: own rule.

    >>> swaps_between((), (), {})
    ()
    """
    was = {wall.key: wall for wall in before}
    return tuple(
        Swap(wall.name, where, _name(old, materials), _name(new, materials))
        for wall in after
        if wall.key in was
        for where, old, new in _pairs(was[wall.key], wall)
        if old != new
    )


def _pairs(old: WallSpec, new: WallSpec) -> Iterable[tuple[str, str, str]]:
    yield "track", old.track, new.track
    yield "studs", old.stud, new.stud
    for face in FACES:
        layers = zip(old.face(face).layers, new.face(face).layers, strict=False)
        for place, (was, now) in enumerate(layers, 1):
            yield f"{face} side, layer {place}", was.board, now.board
    runs = {(run.face, run.position, run.name): run for run in old.trims}
    for run in new.trims:
        known = runs.get((run.face, run.position, run.name))
        if known is not None:
            yield run.name, known.material, run.material


def _name(code: str, materials: Mapping[str, Material]) -> str:
    return materials[code].name if code in materials else code
