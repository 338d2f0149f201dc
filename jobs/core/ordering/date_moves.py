"""What a job's days would be with other closures, activities or agreed dates, and what moves between the two."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from jobs.core.measure.findings import Finding
from jobs.core.ordering.job_work_up import JobWorkUp, calendar_of
from jobs.core.ordering.needs import AGREED, DatedNeed, needs_of, wants_of
from jobs.core.schedule.activities import ActivityPlan, PlannedActivity, plan_activities
from jobs.core.schedule.job_spec import JobSpec


@dataclass(frozen=True)
class JobDates:
    """The days of a job as they follow from its start, closures, activities and agreed dates.

    used_on: by material, the day an activity first wants it.
    """

    job: JobSpec
    plan: ActivityPlan
    needs: tuple[DatedNeed, ...]
    used_on: Mapping[str, date | None] = field(default_factory=dict)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is missing or clashes, each once."""
        result = [*self.plan.findings, *(finding for need in self.needs for finding in need.findings)]
        return tuple({finding.key: finding for finding in result}.values())


@dataclass(frozen=True)
class ItemMove:
    """One item whose day of need, or any day before it, becomes another."""

    before: DatedNeed
    after: DatedNeed


@dataclass(frozen=True)
class KeptItem:
    """One item that keeps the day agreed for it while the activity that wants it moves."""

    need: DatedNeed
    used_before: date
    used_after: date


@dataclass(frozen=True)
class ActivityMove:
    """One activity that starts, ends or lasts otherwise; None on the side where it does not happen."""

    name: str
    before: PlannedActivity | None
    after: PlannedActivity | None


@dataclass(frozen=True)
class DateMoves:
    """Everything that moves. items: the least days in hand first, without dates last. stay: items that keep theirs.
    agreed: those of them that keep an agreed day though their activity moves.

    finish_before, finish_after: the day the job is done on site, None while it cannot be dated. findings: those that
    come up with the change. promised_before, promised_after: the day promised, None without one. slack_before,
    slack_after: working days from the finish to it, negative when the finish is later, None without either.
    """

    items: tuple[ItemMove, ...]
    stay: int
    activities: tuple[ActivityMove, ...]
    finish_before: date | None
    finish_after: date | None
    findings: tuple[Finding, ...]
    promised_before: date | None = None
    promised_after: date | None = None
    slack_before: int | None = None
    slack_after: int | None = None
    agreed: tuple[KeptItem, ...] = ()

    @property
    def promise_moves(self) -> bool:
        """Whether the promised day, or the time left to it, becomes another."""
        before, after = (self.promised_before, self.slack_before), (self.promised_after, self.slack_after)
        return before != after

    @property
    def nothing_moves(self) -> bool:
        """Whether all stays as it is."""
        moves = self.items or self.activities or self.findings or self.promise_moves
        return not moves and self.finish_before == self.finish_after


def dates_with(work_up: JobWorkUp, job: JobSpec) -> JobDates:
    """Date a job that is worked up as if its start, crew, closures, activities and agreed dates were others.

    Args:
        work_up: the job worked up; its walls and its takeoff serve unchanged, since no day is in them.
        job: the same job with the same walls, and other days.

    Returns:
        Its activities and its items with their days.

    Raises:
        Nothing of its own: a day that cannot be worked out is a finding.

    Source: trade rules on dates, through `plan_activities` and `needs_of`.

    >>> from datetime import date
    >>> from catalog.core.materials.catalog_data import Catalog
    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.schedule.job_spec import Client
    >>> from quoting.core.quotes.job_file import JobFile
    >>> from quoting.core.quotes.work_up import work_up
    >>> book = Catalog(Firm("The firm", "Europe/Lisbon", "EUR", "metric", 3, 5), starter_standards())
    >>> done = work_up(JobFile(book, JobSpec("J", "Job", Client("C"))), date(2027, 1, 4))
    >>> moved = dates_with(done, replace(done.read.job, start_on=date(2027, 1, 4)))
    >>> moved.job.start_on, moved.plan.start_of("layout")  # a job without walls has no activities
    (datetime.date(2027, 1, 4), None)
    """
    read = replace(work_up.read, job=job)
    plan = plan_activities(job, work_up.walls, read.book.standards, calendar_of(read), read.book.firm.display_units)
    needs = needs_of(
        job, work_up.walls, work_up.takeoff.purchases, plan, read.book, read.book.firm.calendar, work_up.today
    )
    wants = wants_of(job, work_up.walls, work_up.takeoff.purchases, plan, read.book)
    return JobDates(job, plan, needs, {item.material: item.use_on for item in wants})


def moves_between(before: JobDates, after: JobDates) -> DateMoves:
    """Say what moves when the days of a job become others.

    before, after: of the same job, from the same work-up.
    Returns what moves; a count of days in hand that changes while every day stays is no move.
    Source: own convention.

    >>> from jobs.core.schedule.job_spec import Client
    >>> nothing = JobDates(JobSpec("J", "Job", Client("C")), ActivityPlan((), (), None), ())
    >>> moves_between(nothing, nothing).nothing_moves
    True
    """
    was = {need.material: need for need in before.needs}
    pairs = [ItemMove(was[need.material], need) for need in after.needs if need.material in was]
    moved = [pair for pair in pairs if _days(pair.before) != _days(pair.after)]
    known = {finding.key for finding in before.findings}
    return DateMoves(
        tuple(moved),
        len(pairs) - len(moved),
        _activity_moves(before.plan.activities, after.plan.activities),
        before.plan.finish,
        after.plan.finish,
        tuple(finding for finding in after.findings if finding.key not in known),
        before.job.promised_on,
        after.job.promised_on,
        before.plan.slack_workdays,
        after.plan.slack_workdays,
        tuple(_agreed(before, after, pairs)),
    )


def _agreed(before: JobDates, after: JobDates, pairs: Iterable[ItemMove]) -> Iterator[KeptItem]:
    for pair in pairs:
        was, now = (dates.used_on.get(pair.after.material) for dates in (before, after))
        keeps = pair.after.set_by == AGREED and pair.before.need_by == pair.after.need_by
        if keeps and was is not None and now is not None and was != now:
            yield KeptItem(pair.after, was, now)


def _days(need: DatedNeed) -> object:
    return need.need_by, need.dates


def _activity_moves(before: Sequence[PlannedActivity], after: Sequence[PlannedActivity]) -> tuple[ActivityMove, ...]:
    was, will = ({activity.key: activity for activity in each} for each in (before, after))
    # In the order of the chain as it was; what comes back into it stands last.
    moves = [ActivityMove((was.get(key) or will[key]).name, was.get(key), will.get(key)) for key in {**was, **will}]
    return tuple(move for move in moves if _span(move.before) != _span(move.after))


def _span(activity: PlannedActivity | None) -> object:
    if activity is None:
        return None
    times = activity.times
    return activity.duration_workdays, times and (times.early_start, times.early_finish)
