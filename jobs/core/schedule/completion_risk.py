"""The chance that a chain of activities is done by a day, and what would raise it most.

Every activity lasts a time drawn from a beta-PERT distribution between its shortest and longest, and the chain is
run through with those times over and over: Monte Carlo, from a seed, so that the same question has the same answer.

Time runs in working days and parts of them from the start of the work, 0 being its first morning. A wait by the
clock leads from one such moment to a working morning (or evening, where a finish waits), as in the plan of days; with
every activity as long as planned a run therefore ends on the day the plan ends on.
"""

from __future__ import annotations

import math
import random
from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import islice
from typing import Annotated

from catalog.core.ground.declared import Rounded, View
from catalog.core.ground.refusal import Refused
from catalog.core.ground.workdays import WorkCalendar, workdays_from
from jobs.core.schedule.activities import ActivityPlan, PlannedActivity
from jobs.core.schedule.critical_path import OVERNIGHT_HOURS, Activity, Link, NetworkError, network

RUNS = 5000
COMPARED_RUNS = 1000
"""What would raise the chance is asked of so many of the runs: the same ones each time, so that they compare."""

MAX_TRIED = 12
"""Of so many activities, those that set the end most often, it is asked what they would bring."""

DISTRIBUTION = "beta-PERT: a beta distribution between shortest and longest with mean (shortest + 4 likely + longest)/6"
QUANTILES = (0.5, 0.8, 0.9)
MAX_TIME = 40_000.0


@dataclass(frozen=True)
class ThreePoint:
    """How long an activity lasts, in working days.

    Args:
        shortest, likely, longest: zero or more, in this order.

    Raises:
        Refused: not finite, negative, or out of order.

    Source: the three-point estimate of PERT, as in textbooks of project scheduling.

    >>> ThreePoint(4.0, 5.0, 12.0).mean
    6.0
    """

    shortest: float
    likely: float
    longest: float

    def __post_init__(self) -> None:
        if not all(map(math.isfinite, (self.shortest, self.likely, self.longest))):
            raise Refused("a duration must be a finite number of working days")
        if not 0 <= self.shortest <= self.likely <= self.longest <= MAX_TIME:
            raise Refused(
                f"a duration runs from its shortest over its likely to its longest, zero or more: "
                f"{self.shortest:g}, {self.likely:g}, {self.longest:g} do not"
            )

    @property
    def mean(self) -> float:
        """The mean in working days: (shortest + 4 likely + longest) / 6.

        >>> ThreePoint(1.0, 1.5, 5.0).mean
        2.0
        """
        return (self.shortest + 4 * self.likely + self.longest) / 6

    @property
    def variance(self) -> float:
        """The variance of the beta-PERT distribution, in working days squared.

        (mean - shortest) (longest - mean) / 7; the textbook's ((longest - shortest) / 6) squared is near it.

        >>> round(ThreePoint(2.0, 3.0, 4.0).variance, 4)
        0.1429
        """
        return (self.mean - self.shortest) * (self.longest - self.mean) / 7

    def drawn(self, source: random.Random) -> float:
        """Where between shortest (0) and longest (1) a run falls.

        source: of random numbers. Returns a share from 0 to 1.

        >>> 0 <= ThreePoint(1.0, 2.0, 5.0).drawn(random.Random(1)) <= 1
        True
        """
        width = self.longest - self.shortest
        if width <= 0:
            return 0.0
        up, down = (self.likely - self.shortest) / width, (self.longest - self.likely) / width
        return source.betavariate(1 + 4 * up, 1 + 4 * down)

    def at(self, share: float) -> float:
        """The duration at a share of the way from shortest to longest.

        >>> ThreePoint(1.0, 2.0, 5.0).at(0.5)
        3.0
        """
        return self.shortest + share * (self.longest - self.shortest)

    def scaled(self, factor: float) -> ThreePoint:
        """All three times a factor of zero or more.

        >>> ThreePoint(1.0, 2.0, 5.0).scaled(0.5)
        ThreePoint(shortest=0.5, likely=1.0, longest=2.5)
        """
        return ThreePoint(self.shortest * factor, self.likely * factor, self.longest * factor)

    def less(self, workdays: float) -> ThreePoint:
        """All three shorter by so many working days, none below zero.

        >>> ThreePoint(0.5, 2.0, 5.0).less(1)
        ThreePoint(shortest=0.0, likely=1.0, longest=4.0)
        """
        return ThreePoint(*(max(0.0, value - workdays) for value in (self.shortest, self.likely, self.longest)))


@dataclass(frozen=True)
class UncertainActivity:
    """An activity whose length is not certain.

    Args:
        name: unique among those it is run with.
        lasts: how long.
        start_no_earlier: the time before which it may not start, in working days from the start, 0 or more.

    Raises:
        Refused: no name, or an earliest start that is negative or not finite.

    Source: own rule.

    >>> UncertainActivity("A", ThreePoint(4.0, 5.0, 12.0)).start_no_earlier
    0.0
    """

    name: str
    lasts: ThreePoint
    start_no_earlier: float = 0.0

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise Refused("an activity needs a name")
        if not 0 <= self.start_no_earlier <= MAX_TIME:
            raise Refused(f"{self.name}: the earliest start must be zero or more, not {self.start_no_earlier:g}")


@dataclass(frozen=True)
class Runs:
    """Many runs of a chain.

    finishes: when each run ended, working days from the start, in the order drawn. on_path: by activity, the share
    of runs in which it lay on the path that set the end (its criticality index), from 0 to 1.
    """

    finishes: tuple[float, ...]
    on_path: Mapping[str, float]

    def share_by(self, time: float) -> float:
        """The share of runs that ended by a time, from 0 to 1.

        >>> Runs((1.0, 2.0, 3.0, 4.0), {}).share_by(3.0)
        0.75
        """
        # A hair more, so that a sum in another order is still that moment's.
        return sum(1 for finish in self.finishes if finish <= time + 1e-9) / len(self.finishes)

    def quantile(self, share: float) -> float:
        """The time by which at least a share of the runs ended, share over 0 to 1.

        >>> Runs((4.0, 1.0, 3.0, 2.0), {}).quantile(0.5)
        2.0
        """
        return sorted(self.finishes)[max(0, math.ceil(share * len(self.finishes) - 1e-9) - 1)]


class WorkClock:
    """Time in working days of a calendar from a start, and waits by the clock along it.

    calendar: days worked. start: the day before which nothing starts. overnight_hours: from the end of a working day
    to the start of the next one's, 1 to 23. Days are looked up as far as asked for.
    """

    def __init__(self, calendar: WorkCalendar, start: date, overnight_hours: int = OVERNIGHT_HOURS) -> None:
        self._days = workdays_from(calendar, start)
        self._known: list[date] = []
        self._mornings: list[float] = []
        self._day_hours = 24 - overnight_hours
        self.calendar, self.start = calendar, start

    def _reach(self, number: int) -> None:
        short = number + 1 - len(self._known)
        if short > 0:
            new = list(islice(self._days, short + 50))
            self._known += new
            self._mornings += [day.toordinal() * 24.0 for day in new]

    def day_of_finish(self, time: float) -> date:
        """The working day in whose course, or at whose end, something finished at a time ends.

        >>> WorkClock(WorkCalendar("firm"), date(2027, 1, 8)).day_of_finish(1.5)
        datetime.date(2027, 1, 11)
        """
        number = max(0, math.ceil(time - 1e-9) - 1)
        self._reach(number)
        return self._known[number]

    def evening_of(self, day: date) -> float:
        """The time at the end of a day: working days from the start up to it, 0 before the first.

        >>> WorkClock(WorkCalendar("firm"), date(2027, 1, 8)).evening_of(date(2027, 1, 11))
        2.0
        """
        if day < self.start:
            return 0.0
        first = self.calendar.on_or_after(self.start)
        return float(self.calendar.workdays_between(first, day) + 1) if day >= first else 0.0

    def morning_of(self, day: date) -> float:
        """The time on the first working morning not before a day.

        >>> WorkClock(WorkCalendar("firm"), date(2027, 1, 8)).morning_of(date(2027, 1, 9))
        1.0
        """
        first = self.calendar.on_or_after(self.start)
        return float(max(0, self.calendar.workdays_between(first, self.calendar.on_or_after(day))))

    def after_wait(self, time: float, hours: int, from_evening: bool, to_evening: bool) -> float:
        """The time to go on at after a wait by the clock: a working morning, or an evening where a finish waits.

        time: when the wait begins. hours: over 0. from_evening: whether a whole time means the evening before it.

        >>> friday_evening = 1.0
        >>> WorkClock(WorkCalendar("firm"), date(2027, 1, 8)).after_wait(friday_evening, 48, True, False)
        1.0
        """
        whole = math.ceil(time - 1e-9) - 1 if from_evening and time > 0 else math.floor(time + 1e-9)
        self._reach(whole)
        moment = self._mornings[whole] + (time - whole) * self._day_hours + hours
        wanted = moment - (self._day_hours if to_evening else 0.0) - 1e-6
        while self._mornings[-1] < wanted:
            self._reach(len(self._known))
        return float(bisect_left(self._mornings, wanted) + (1 if to_evening else 0))


_Push = Callable[[float, float, float], float]


class _Chain:
    """Activities in an order in which they can be done, each with what pushes its start."""

    def __init__(self, activities: Sequence[UncertainActivity], links: Sequence[Link], clock: WorkClock | None) -> None:
        self.clock = clock
        lengths = {activity.name: 0 for activity in activities}
        try:
            order = list(network([Activity(name, 0) for name in lengths], [_bare(link) for link in links]).times)
        except NetworkError as error:
            raise Refused(str(error)) from error
        by_name = {activity.name: activity for activity in activities}
        self.activities = [by_name[name] for name in order]
        place = {name: number for number, name in enumerate(order)}
        self.pushes: list[list[tuple[int, _Push]]] = [[] for _ in order]
        for link in links:
            timed = by_name[link.before].lasts.longest > 0, by_name[link.after].lasts.longest > 0
            self.pushes[place[link.after]].append((place[link.before], _push(link, clock, *timed)))

    def drawn(self, runs: int, seed: int) -> list[list[float]]:
        source = random.Random(seed)
        return [[activity.lasts.drawn(source) for activity in self.activities] for _ in range(runs)]

    def run(self, shares: Sequence[Sequence[float]], lasts: Sequence[ThreePoint]) -> Runs:
        low = [point.shortest for point in lasts]
        width = [point.longest - point.shortest for point in lasts]
        floors = [activity.start_no_earlier for activity in self.activities]
        count = len(self.activities)
        # On a calendar an event falls on the morning of its own day, not on the evening before.
        lifted = [0.0 if point.longest or not self.clock else 1e-6 for point in lasts]
        starts, ends, held = [0.0] * count, [0.0] * count, [-1] * count
        on_path, finishes = [0] * count, []
        for drawn in shares:
            for number in range(count):
                length = low[number] + width[number] * drawn[number]
                start, by = floors[number], -1
                for before, push in self.pushes[number]:
                    pushed = push(starts[before], ends[before], length)
                    if pushed > start + 1e-12:
                        start, by = pushed, before
                starts[number], ends[number], held[number] = start, start + length, by
            last = max(range(count), key=ends.__getitem__)
            finishes.append(ends[last] + lifted[last])
            while last >= 0:
                on_path[last] += 1
                last = held[last]
        names = (activity.name for activity in self.activities)
        return Runs(tuple(finishes), {n: hits / len(shares) for n, hits in zip(names, on_path, strict=True)})


def _bare(link: Link) -> Link:
    """The link without its wait: only who comes before whom is asked."""
    return Link(link.before, link.after)


def _push(link: Link, clock: WorkClock | None, before_lasts: bool, after_lasts: bool) -> _Push:
    from_finish, to_finish = link.kind in ("FS", "FF"), link.kind in ("FF", "SF")
    lag, hours = float(link.lag_workdays), link.lag_elapsed_hours
    if hours and clock is None:
        raise Refused(f"Link {link.before} to {link.after}: hours need a calendar; use working days.")

    def pushed(start: float, end: float, length: float) -> float:
        moment = end if from_finish else start
        if hours and clock is not None:
            moment = clock.after_wait(moment, hours, from_finish and before_lasts, to_finish and after_lasts)
        else:
            moment += lag
        return moment - length if to_finish else moment

    return pushed


@dataclass(frozen=True)
class Remedy(View):
    """Something that would change the chance.

    what: "shorter" (the activity a working day shorter), "person" (one more person on it) or "earlier" (the whole
    work begins a working day earlier). activity: its name in words, empty for the whole. chance: then, from 0 to 1.
    gain: above the chance as planned, of the same runs.
    """

    what: str
    activity: str
    chance: Annotated[float, Rounded(6)]
    gain: Annotated[float, Rounded(6)]


@dataclass(frozen=True)
class FinishingChance:
    """How likely the work is done by the promised day.

    promised_on: None when no day is promised, and there is then no chance and no remedy. chance: from 0 to 1. days: by
    share of the runs, the day by which so many were done. criticality: by activity in words, the share of runs in
    which it lay on the path that set the end. remedies: those that raise the chance, the most first.
    """

    promised_on: date | None
    chance: float | None
    days: Mapping[float, date]
    criticality: tuple[tuple[str, float], ...]
    remedies: tuple[Remedy, ...]
    runs: int
    compared_runs: int
    seed: int
    distribution: str = DISTRIBUTION


def finishing_chance(
    plan: ActivityPlan,
    calendar: WorkCalendar,
    start: date | None,
    not_before: Mapping[str, date | None],
    *,
    seed: int = 1,
    runs: int = RUNS,
    compared_runs: int = COMPARED_RUNS,
) -> FinishingChance:
    """Work out how likely a planned chain is done by its promised day.

    Args:
        plan: the chain, dated.
        calendar: days on which the job is worked.
        start: the first day on site.
        not_before: by key of an activity, the day it cannot start before.
        seed: as stored with the job, 1 to 2,000,000,000.
        runs: 1 to 100,000. compared_runs: of them, those in which remedies are tried.

    Returns:
        The chance, the days for half, four fifths and nine tenths of the runs, how often each activity sets the
        end, and what would raise the chance.

    Raises:
        Refused: the chain has no days, or the firm does not state the shares between which activities last.

    Source: Monte Carlo simulation with beta-PERT durations on the job's own calendar; criticality index as in
    textbooks, taken along the path that set the end of each run. Goods are taken to be in time, unless not_before says
    otherwise.

    >>> finishing_chance(ActivityPlan((), (), None), WorkCalendar("firm"), date(2027, 1, 4), {})
    Traceback (most recent call last):
    catalog.core.ground.refusal.Refused: the activities have no days yet; fill what is missing first
    """
    if plan.finish is None or start is None:
        raise Refused("the activities have no days yet; fill what is missing first")
    if any(activity.spread is None for activity in plan.activities if activity.duration_workdays):
        raise Refused(
            "the firm does not state between which shares of its planned days an activity lasts; enter its standards "
            "shortest_duration_share and longest_duration_share"
        )
    names = {activity.key: activity.name for activity in plan.activities}
    began = [activity.actual.began_on for activity in plan.activities if activity.actual]
    clock = WorkClock(calendar, min(start, *began) if began else start)
    chain = _chain_of(plan, clock, not_before)
    shares = chain.drawn(runs, seed)
    lasts = [activity.lasts for activity in chain.activities]
    run = chain.run(shares, lasts)
    critical = tuple(
        (names[activity.key], run.on_path[activity.key]) for activity in plan.activities if activity.duration_workdays
    )
    days = {share: clock.day_of_finish(run.quantile(share)) for share in QUANTILES}
    promised = plan.promised_on
    if promised is None:
        return FinishingChance(None, None, days, critical, (), runs, 0, seed)
    until, some = clock.evening_of(promised), shares[:compared_runs]
    remedies = _remedies(chain, some, lasts, until, plan)
    base = Runs(run.finishes[: len(some)], {}).share_by(until)
    if not began:
        sooner = WorkClock(calendar, calendar.back(start, 1))
        earlier = _chain_of(plan, sooner, not_before).run(some, lasts).share_by(sooner.evening_of(promised))
        remedies.append(Remedy("earlier", "", earlier, earlier - base))
    raising = sorted(
        (remedy for remedy in remedies if remedy.gain > 0),
        key=lambda remedy: (-remedy.gain, remedy.what, remedy.activity),
    )
    return FinishingChance(promised, run.share_by(until), days, critical, tuple(raising), runs, len(some), seed)


def _chain_of(plan: ActivityPlan, clock: WorkClock, not_before: Mapping[str, date | None]) -> _Chain:
    """What began starts where it began, whatever it waited for; what ended took the days it took."""
    began = {activity.key: activity.actual.began_on for activity in plan.activities if activity.actual}
    days = {**not_before, **began}
    uncertain = [
        UncertainActivity(
            activity.key, _lasts(activity, clock), clock.morning_of(day) if (day := days.get(activity.key)) else 0.0
        )
        for activity in plan.activities
    ]
    return _Chain(uncertain, [link for link in plan.links if link.after not in began], clock)


def _lasts(activity: PlannedActivity, clock: WorkClock) -> ThreePoint:
    if activity.actual and activity.actual.ended_on:
        took = max(0.0, clock.evening_of(activity.actual.ended_on) - clock.morning_of(activity.actual.began_on))
        return ThreePoint(took, took, took)
    likely = float(activity.duration_workdays)
    if activity.spread is None:
        return ThreePoint(likely, likely, likely)
    return ThreePoint(activity.spread.shortest_workdays, likely, activity.spread.longest_workdays)


def _remedies(
    chain: _Chain,
    shares: Sequence[Sequence[float]],
    lasts: Sequence[ThreePoint],
    until: float,
    plan: ActivityPlan,
) -> list[Remedy]:
    """The activities that set the end most often, a day shorter and with one more person, in the same runs.

    One of a single day cannot be a day shorter.
    """
    planned = {activity.key: activity for activity in plan.activities}
    as_planned = chain.run(shares, lasts)
    base = as_planned.share_by(until)
    remedies: list[Remedy] = []
    often = as_planned.on_path
    numbers = [
        number for number, activity in enumerate(chain.activities) if activity.lasts.longest and often[activity.name]
    ]
    for number in sorted(numbers, key=lambda n: -often[chain.activities[n].name])[:MAX_TRIED]:
        entry = chain.activities[number]
        named, crew, actual = planned[entry.name].name, planned[entry.name].people, planned[entry.name].actual
        if actual and actual.has_ended:
            continue
        others = {"shorter": entry.lasts.less(1)} if entry.lasts.likely > 1 else {}
        others |= {"person": entry.lasts.scaled(crew / (crew + 1))} if crew else {}
        for what, other in others.items():
            chance = chain.run(shares, [*lasts[:number], other, *lasts[number + 1 :]]).share_by(until)
            remedies.append(Remedy(what, named, chance, chance - base))
    return remedies
