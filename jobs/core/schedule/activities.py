"""The default chain of activities of a job, drawn from its takeoff: what is done, for how long, after what.

Durations come from hours (quantity x the firm's standard x curve factor) and the crew's pace, rounded up to
whole working days. Drying waits run by the clock, everything else on the firm's calendar and the site's.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.units import System, sqft_from_mm2
from catalog.core.ground.workdays import WorkCalendar
from catalog.core.materials.specs import Material
from catalog.core.materials.standards import Standards
from jobs.core.measure.explanation import Explanation
from jobs.core.measure.findings import Finding
from jobs.core.schedule.activity_links import ON_SITE, Wait, WaitHours, chain_links
from jobs.core.schedule.actual_days import ActualDays
from jobs.core.schedule.critical_path import (
    MAX_DURATION_WORKDAYS,
    CircleError,
    DatedActivity,
    DatedTimes,
    Link,
    NetworkError,
    schedule,
)
from jobs.core.schedule.hours import MAN_DAYS_SOURCE, Driver, Pace, StepQuantities
from jobs.core.schedule.job_activities import AddedActivity
from jobs.core.schedule.job_spec import JobSpec
from jobs.core.takeoff.job_items import SiteDays
from jobs.core.takeoff.wall_work_up import WallWorkUp

COATS_OF_LEVEL: Mapping[int, int] = {0: 0, 1: 1, 2: 2, 3: 2, 4: 3, 5: 4}
"""Coats of compound by finish level: GA-214 describes them; level 5 is level 4 and a skim coat over the face."""

STAGE_OF_KIND: Mapping[str, str] = {
    "track": "framing",
    "stud": "framing",
    "backing": "framing",
    "insulation": "boards",
    "board": "boards",
    "tape": "coat-1",
    "compound": "coat-1",
    "bead": "coat-1",
    "primer": "primer",
    "trim": "trim",
    "paint": "paint",
}
"""The activity a kind of material must be on site for."""

STAGE_OF_ROLE: Mapping[str, str] = {"board_screw": "boards", "bead_fastener": "coat-1"}
"""Fasteners by what they hold; all others are wanted from the first."""

ActivityKind = Literal["work", "inspection", "hold", "delivery"]
"""Work of the crew, an inspection by others, a hold until a named day, material on site by a day."""

TAPPED: frozenset[ActivityKind] = frozenset({"work", "inspection"})
"""Kinds of activity that really begin and end; a hold is lifted by its day, and deliveries are checked in."""

METRES_PER_FOOT = 0.3048
_PACE = ("hours_per_workday", "delay_factor", "crew_availability", "crew_efficiency")
_ACCLIMATISE: Mapping[str, str] = {"trim": "trim_acclimatise_hours", "boards": "board_acclimatise_hours"}
_WAITS = ("coat_dry_hours", "paint_dry_hours", "trim_cure_hours", *_ACCLIMATISE.values())
_GIVE_DAYS_ONLY = frozenset(f"standards/{name}" for name in (*_PACE, "inspection_workdays", *_WAITS))


@dataclass(frozen=True)
class Spread:
    """Between how many working days an activity is expected to last.

    shortest, longest: zero or more, with the planned duration between them. entered: whether somebody said so for
    this job, in whole or in part; else they are the firm's shares of the planned duration.
    """

    shortest_workdays: float
    longest_workdays: float
    entered: bool


@dataclass(frozen=True)
class PlannedActivity:
    """One activity of the chain: hours for the whole crew together, whole working days, why, and its dates.

    explanation: of the hours; days_explanation: of the working days. times: None while the job has no start day; of
    a delivery, the day its material must lie on site. kind: whose it is. people: of the firm on site for it, 0 where
    none is. promised: its late days and float up to the promised day, None without one. spread: None where nothing
    is uncertain or the firm's shares are not stated. is_own: added to the chain by this job.
    actual: when it really began and ended, None before it did; its times are then those days. exact_workdays: of its
    hours before they are rounded up; None where its days do not follow from them.
    """

    key: str
    name: str
    hours: float
    duration_workdays: int
    explanation: Explanation
    days_explanation: Explanation
    times: DatedTimes | None = None
    kind: ActivityKind = "work"
    people: int = 0
    promised: DatedTimes | None = None
    spread: Spread | None = None
    is_own: bool = False
    actual: ActualDays | None = None
    exact_workdays: float | None = None


@dataclass(frozen=True)
class ActivityPlan:
    """The chain with its links; finish is None while the job has no start day.

    waits: time between activities that is nobody's work. promised_on: the day promised, None without one.
    slack_workdays: working days from the finish to it, negative when the finish is later; None without either.
    """

    activities: tuple[PlannedActivity, ...]
    links: tuple[Link, ...]
    finish: date | None
    findings: tuple[Finding, ...] = ()
    waits: tuple[Wait, ...] = ()
    promised_on: date | None = None
    slack_workdays: int | None = None

    def start_of(self, key: str) -> date | None:
        """The day an activity starts, or None without dates or without that activity.

        >>> ActivityPlan((), (), None).start_of("trim") is None
        True
        """
        for activity in self.activities:
            if activity.key == key and activity.times is not None:
                return activity.times.early_start
        return None

    def wanted_on(self, key: str) -> date | None:
        """The day the material of an activity must be on site: its start, less the time it acclimatises.

        >>> ActivityPlan((), (), None).wanted_on("trim") is None
        True
        """
        return (self.start_of(ON_SITE[key]) if key in ON_SITE else None) or self.start_of(key)

    def late_wanted_on(self, key: str) -> date | None:
        """The latest day the material of an activity may be on site so that the promised day still holds.

        None without dates, without that activity or without a promised day.

        >>> ActivityPlan((), (), None).late_wanted_on("trim") is None
        True
        """
        names = {ON_SITE.get(key, key): 0, key: 1}
        result = [activity for activity in self.activities if activity.key in names and activity.promised is not None]
        best = min(result, key=lambda activity: names[activity.key], default=None)
        return best.promised.late_start if best and best.promised else None


def hours_gaps(plan: ActivityPlan, walls: Sequence[WallWorkUp]) -> tuple[Finding, ...]:
    """What is missing without which some of the hours are left out.

    plan: the chain. walls: those it was drawn from. Returns the gaps of the firm's standards and of the walls; those
    that only keep the chain from being dated are not among them. Source: own rule, a gap is never zero hours.

    >>> gap = Finding("standards/coat_hours_per_1000sqft", "gap", "It is not stated.")
    >>> of_days = Finding("standards/coat_dry_hours", "gap", "It is not stated.")
    >>> hours_gaps(ActivityPlan((), (), None, (gap, of_days)), ()) == (gap,)
    True
    """
    of_standards = [
        finding
        for finding in plan.findings
        if finding.key.startswith("standards/") and finding.key not in _GIVE_DAYS_ONLY
    ]
    hours = [*of_standards, *(finding for wall in walls for finding in wall.findings)]
    return tuple(finding for finding in hours if finding.weight == "gap")


def site_days(plan: ActivityPlan, calendar: WorkCalendar) -> SiteDays:
    """The working days of a job: of each activity, and from its first day on site to its last.

    plan: its chain. calendar: days on which it is worked. Returns them; those in all None while nothing is dated.

    >>> from catalog.core.ground.workdays import WorkCalendar
    >>> site_days(ActivityPlan((), (), None), WorkCalendar("firm")).in_all is None
    True
    """
    starts = [
        activity.times.early_start
        for activity in plan.activities
        if activity.times is not None and activity.kind != "delivery"
    ]
    in_all = None
    if starts and plan.finish is not None:
        in_all = calendar.workdays_between(min(starts), plan.finish) + calendar.is_workday(min(starts))
    return SiteDays(
        {activity.key: activity.duration_workdays for activity in plan.activities if activity.kind != "delivery"},
        in_all,
    )


def stage_of(material: Material, position: str | None = None, role: str = "") -> str:
    """The activity for which a material must be on site.

    material: of the catalog. position: of the trim run, if it is trim: a shadow reveal is set when boards go up.
    role: what it is taken from the firm's kit for, if it is.

    >>> from decimal import Decimal
    >>> stage_of(Material("B", "Base", "trim", "stocked", "ft", "stick", Decimal(0)), "base")
    'trim'
    """
    if material.kind == "trim" and position == "reveal":
        return "boards"
    return STAGE_OF_ROLE.get(role) or STAGE_OF_KIND.get(material.kind, "framing")


def plan_activities(
    job: JobSpec,
    walls: Sequence[WallWorkUp],
    standards: Standards,
    calendar: WorkCalendar,
    system: System = "imperial",
) -> ActivityPlan:
    """The default chain for these walls, dated from the job's start.

    job: its start, crew and changes to activities. walls: worked up. calendar: days on which this job is worked
    (the firm's, less the site's own closures). A missing standard is a gap, and the chain is then not dated; without
    walls there is no chain.
    Source: own convention for the order; GA-214 for the coats of a level.
    """
    if not walls:
        # Nothing to build takes no days: a chain of empty steps would end on the first of them.
        return ActivityPlan((), (), None)
    findings: list[Finding] = list(_start_on_a_closed_day(job, calendar))
    hours = _Hours(walls, standards, findings, system)
    trims, painted = _has_trim(walls), _painted(walls)
    planned = _chain(hours, trims, painted)
    changes = {change.key: change for change in job.activities}
    chain_keys = [key for key, *_ in planned]
    for key in changes.keys() - set(chain_keys):
        findings.append(
            Finding(
                f"activities/{key}",
                "gap",
                f'The job changes activity "{key}", which its chain does not have; these are {", ".join(chain_keys)}.',
            )
        )
    rows = [row for row in planned if not (row[0] in changes and changes[row[0]].left_out)]
    waiting = hours.standard("inspection_workdays")
    activities = []
    for key, name, needed, explanation in rows:
        change = changes.get(key)
        crew = change.crew if change and change.crew else job.crew
        pace = hours.pace(crew)
        inspected = key == "inspection"
        computed = math.ceil(waiting) if inspected else pace.workdays(needed) if pace else 1
        exact = None if inspected or pace is None else pace.days_for_man_days(pace.man_days(needed))
        why = _INSPECTED if inspected else _why_days(needed, pace)
        if change is not None and change.duration_workdays is not None:
            inputs = (*why.inputs, ("Computed", f"{computed} working days"), ("Set", _days(change.duration_workdays)))
            why = Explanation("Set for this job", inputs, why.source)
            computed, exact = change.duration_workdays, None
        activity = PlannedActivity(
            key,
            name,
            needed,
            computed,
            explanation,
            why,
            kind="inspection" if inspected else "work",
            people=0 if inspected else crew,
            exact_workdays=exact,
        )
        ends = (change.shortest_workdays, change.longest_workdays) if change else (None, None)
        activities.append(replace(activity, spread=hours.spread(activity, *ends)))
    activities = _with_actual(_with_own(activities, job, hours, chain_keys), job, findings)
    wait = WaitHours(
        hours.standard("coat_dry_hours"),
        hours.standard("paint_dry_hours") if painted else 0.0,
        hours.standard("trim_cure_hours") if trims else 0.0,
        (pace.hours_per_workday if (pace := hours.pace(job.crew)) else 0.0),
        {key: hours.standard(name) for key, name in _ACCLIMATISE.items() if key in {row[0] for row in rows}},
    )
    wait = replace(wait, acclimatise={key: clock for key, clock in wait.acclimatise.items() if clock})
    activities = _with_deliveries(activities, wait)
    linked = chain_links([row[0] for row in rows], job.own_activities, job.links, wait)
    findings += linked.findings
    plan = ActivityPlan(tuple(activities), linked.links, None, (), linked.waits, job.promised_on)
    if job.start_on is not None and not any(finding.weight == "gap" for finding in findings):
        plan = _dated(job, plan, calendar, findings)
    return replace(plan, findings=tuple(findings))


def _with_own(
    chain: Sequence[PlannedActivity], job: JobSpec, hours: _Hours, chain_keys: Sequence[str]
) -> list[PlannedActivity]:
    """The chain with the job's own activities, each after the one it follows, or before the one that waits for it."""
    activities = list(chain)
    for own in job.own_activities:
        if own.key in chain_keys:
            hours.gap(f"activities/{own.key}/key", f'"{own.name}" has the key of an activity of the chain, {own.key}.')
            continue
        keys = [activity.key for activity in activities]
        if own.after in keys:
            place = keys.index(own.after) + 1
        else:
            place = keys.index(own.before) if own.before in keys else len(keys)
        activities.insert(place, _own(own, job, hours))
    return activities


def _own(own: AddedActivity, job: JobSpec, hours: _Hours) -> PlannedActivity:
    crew = own.crew or job.crew
    if own.kind == "hold":
        if own.not_before is None:
            hours.gap(
                f"activities/{own.key}/not_before",
                f'Enter the day "{own.name}" is expected to be lifted.',
            )
        days, why = 0, Explanation("A hold lasts until its day", (), ENTERED)
    elif own.crew_hours is not None:
        pace = hours.pace(crew)
        days, why = (pace.workdays(own.crew_hours) if pace else 1), _why_days(own.crew_hours, pace)
    else:
        days = own.duration_workdays or 0
        why = Explanation("Set for this job", (("Set", _days(days)),), ENTERED)
    worked = own.crew_hours or 0.0
    inputs = (("Hours", f"{worked:g} h"),) if worked else ()
    activity = PlannedActivity(
        own.key,
        own.name,
        worked,
        days,
        Explanation("Entered for this job" if worked else "No hours of the firm's own", inputs, ENTERED),
        why,
        kind=own.kind,
        people=crew if own.kind == "work" else 0,
        is_own=True,
    )
    return replace(activity, spread=hours.spread(activity, own.shortest_workdays, own.longest_workdays))


def _with_actual(activities: Sequence[PlannedActivity], job: JobSpec, findings: list[Finding]) -> list[PlannedActivity]:
    actual = {day.key: day for day in job.actual_days}
    there = {activity.key for activity in activities if activity.kind in TAPPED}
    for key in actual.keys() - there:
        message = f'"{key}" was begun, and the job has no such activity of work or inspection now.'
        findings.append(Finding(f"activities/{key}/actual", "caution", message))
    return [
        replace(activity, actual=actual.get(activity.key) if activity.kind in TAPPED else None)
        for activity in activities
    ]


def _with_deliveries(activities: Sequence[PlannedActivity], wait: WaitHours) -> list[PlannedActivity]:
    deliveries: list[PlannedActivity] = []
    for activity in activities:
        if activity.key in wait.acclimatise:
            inputs = (("Before the start, by the clock", f"{wait.acclimatise[activity.key]:g} h"),)
            why = Explanation("On site so long before the start", inputs, "The firm's standard")
            deliveries.append(
                PlannedActivity(ON_SITE[activity.key], _ON_SITE_NAMES[activity.key], 0.0, 0, why, why, kind="delivery")
            )
        deliveries.append(activity)
    return deliveries


def _start_on_a_closed_day(job: JobSpec, calendar: WorkCalendar) -> Iterable[Finding]:
    if job.start_on is not None and not calendar.is_workday(job.start_on):
        begins = calendar.on_or_after(job.start_on)
        message = (
            f"The first day on site, {day_words(job.start_on)}, is not worked on this job: "
            f"it begins on {day_words(begins)}."
        )
        yield Finding("job/start_on/closed", "caution", message, "The firm's calendar and the site's closed days")


def _dated(job: JobSpec, plan: ActivityPlan, calendar: WorkCalendar, findings: list[Finding]) -> ActivityPlan:
    assert job.start_on is not None
    for activity in plan.activities:
        if activity.duration_workdays > MAX_DURATION_WORKDAYS:
            message = (
                f"{activity.name} would take {activity.duration_workdays:,} working days, and at most "
                f"{MAX_DURATION_WORKDAYS:,} can be planned: give it more people, or fewer hours."
            )
            findings.append(Finding(f"activities/{activity.key}/too-long", "gap", message))
            return plan
    not_before = {change.key: change.not_before for change in job.activities}
    not_before |= {entry.key: entry.not_before for entry in job.own_activities}
    dated = [_to_date(entry, calendar, not_before.get(entry.key)) for entry in plan.activities]
    try:
        result = schedule(dated, plan.links, job.start_on)
        stored = None if job.promised_on is None else _times_by(job.promised_on, dated, plan.links, job.start_on)
    except CircleError as error:
        findings.append(Finding("activities/circle", "gap", _circle_in_words(error.circle, plan.activities)))
        return plan
    except NetworkError as error:
        findings.append(Finding("activities/dates", "gap", str(error)))
        return plan
    began = {
        ON_SITE[entry.key]: entry.actual.began_on for entry in plan.activities if entry.actual and entry.key in ON_SITE
    }
    timed = tuple(
        replace(
            entry,
            times=_as_wanted(entry, result.times[entry.key], calendar, began.get(entry.key)),
            promised=_as_wanted(entry, stored[entry.key], calendar, began.get(entry.key)) if stored else None,
        )
        for entry in plan.activities
    )
    if job.promised_on is None:
        return replace(plan, activities=timed, finish=result.finish)
    slack = calendar.workdays_between(result.finish, job.promised_on)
    if result.finish > job.promised_on:
        message = (
            f"The work is promised to be done on {day_words(job.promised_on)}; as planned it is done on "
            f"{day_words(result.finish)}, {_days(abs(min(slack, -1)))} later."
        )
        findings.append(Finding("activities/promised", "caution", message))
    return replace(plan, activities=timed, finish=result.finish, slack_workdays=slack)


def _to_date(activity: PlannedActivity, calendar: WorkCalendar, not_before: date | None) -> DatedActivity:
    actual = activity.actual
    began_on, ended_on = (actual.began_on, actual.ended_on) if actual else (None, None)
    return DatedActivity(activity.key, activity.duration_workdays, calendar, not_before, began_on, ended_on)


def _times_by(
    promised_on: date, dated: Sequence[DatedActivity], links: Sequence[Link], start: date
) -> Mapping[str, DatedTimes]:
    return schedule(dated, links, start, finish_by=promised_on).times


def _as_wanted(
    activity: PlannedActivity, times: DatedTimes, calendar: WorkCalendar, used_on: date | None
) -> DatedTimes:
    """Material is wanted on site as late as what waits for it allows, and not as early as it could be there.

    used_on: the day the activity that uses it began, None before it did.
    """
    if used_on is not None:
        return DatedTimes(used_on, used_on, used_on, used_on, 0, 0, "began", True)
    if activity.kind != "delivery" or not times.free_float_workdays:
        return times
    wanted = calendar.forward(times.early_start, times.free_float_workdays)
    left = times.total_float_workdays - times.free_float_workdays
    return replace(times, early_start=wanted, early_finish=wanted, total_float_workdays=left, free_float_workdays=0)


def _circle_in_words(circle: Sequence[str], activities: Sequence[PlannedActivity]) -> str:
    names = {activity.key: activity.name for activity in activities}
    walked = [f'"{names[key]}"' for key in circle]
    waits = ", then ".join([f"first {walked[0]}", *walked[1:-1], f"{walked[-1]} again"])
    return f"These activities wait for each other in a circle: {waits}. Take one of the links between them out."


def _days(count: int) -> str:
    return f"{count} working day{'' if count == 1 else 's'}"


_Row = tuple[str, str, float, Explanation]


@dataclass(frozen=True)
class _Counted:
    """A driver, the source of its rate, and the standard that is its rate with what that is multiplied by."""

    driver: Driver
    source: str
    standard: str
    units: float


class _Hours:
    """Hours of each step from the walls and the firm's standards; a missing standard is noted once."""

    def __init__(
        self, walls: Sequence[WallWorkUp], standards: Standards, findings: list[Finding], system: System
    ) -> None:
        self.walls = walls
        self._standards = standards
        self._findings = findings
        self._system = system
        self.quantities: list[StepQuantities] = []

    def gap(self, key: str, sentence: str) -> None:
        self._findings.append(Finding(key, "gap", sentence))

    def spread(self, activity: PlannedActivity, shortest: int | None, longest: int | None) -> Spread | None:
        """Between what it lasts: as entered, else the firm's shares; ends past the planned days are drawn in."""
        days, entered = activity.duration_workdays, shortest is not None or longest is not None
        shares = [self._standards.fact(f"{end}_duration_share") for end in ("shortest", "longest")]
        if not days or None in shares:
            return None
        low, high = (days * share.number for share in shares if share is not None)
        low, high = (low if shortest is None else float(shortest)), (high if longest is None else float(longest))
        if not low <= days <= high:
            message = (
                f"{activity.name} is planned for {_days(days)} and said to last from {low:g} to {high:g}: one of "
                "the three is not right. The chance of finishing counts with the planned days as that end."
            )
            self._findings.append(Finding(f"activities/{activity.key}/spread", "caution", message))
        return Spread(min(low, days), max(high, days), entered)

    def standard(self, name: str) -> float:
        fact = self._standards.fact(name)
        if fact is None:
            finding = Finding(
                f"standards/{name}",
                "gap",
                f"The firm's standard {name} is not stated; activities cannot be dated.",
            )
            if finding not in self._findings:
                self._findings.append(finding)
            return 0.0
        return fact.number

    def pace(self, crew: int) -> Pace | None:
        """The crew's pace, None while a standard of it is missing."""
        figures = [self.standard(name) for name in _PACE]
        return Pace(crew, *figures) if all(figures) else None

    def driver(self, what: str, quantity: float, unit: str, standard: str, per: float = 1) -> _Counted:
        """What drives the hours at the firm's rate, and the source of the rate."""
        rate, fact = self.standard(standard), self._standards.fact(standard)
        driver = Driver(what, quantity, unit, rate, per)
        return _Counted(driver, fact.source if fact else "", standard, quantity / per)

    def of_length(self, length_m: float, standard: str) -> _Counted:
        """Hours by length, said in the firm's units; the firm's rate is by the metre."""
        if self._system == "metric":
            return self.driver("Length", length_m, "m", standard)
        counted = self.driver("Length", length_m / METRES_PER_FOOT, "ft", standard)
        rate = counted.driver.rate_hours * METRES_PER_FOOT
        return replace(counted, driver=replace(counted.driver, rate_hours=rate), units=length_m)

    def row(self, key: str, name: str, drivers: Sequence[_Counted], curved: bool) -> _Row:
        """The hours of a step; a driver after the first is left out where it adds nothing."""
        first, *others = drivers
        self.quantities.append(StepQuantities(key, {entry.standard: entry.units for entry in drivers}, curved))
        counted = [first, *(other for other in others if other.driver.hours)]
        factor = self.standard("curve_factor") if curved else 1.0
        inputs = [words for entry in counted for words in entry.driver.in_words]
        sources = [entry.source for entry in counted]
        rule = "Quantity x rate"
        if len(counted) > 1:
            rule += ", added up"
        if curved:
            rule += " x curve factor"
            inputs.append(("Curve factor", f"{factor:g}"))
            fact = self._standards.fact("curve_factor")
            sources.append(f"curve factor: {fact.source}" if fact else "")
        source = "; ".join(dict.fromkeys(text for text in sources if text))
        hours = sum(entry.driver.hours for entry in counted) * factor
        return key, name, hours, Explanation(rule, tuple(inputs), source)


ENTERED = "Entered for this job"
_ON_SITE_NAMES: Mapping[str, str] = {"trim": "Trim on site", "boards": "Board on site"}
_INSPECTED = Explanation("The firm's usual wait, in working days", (), "The firm's standard")


def _why_days(hours: float, pace: Pace | None) -> Explanation:
    inputs = [("Hours", f"{hours:.1f} h")]
    if pace is not None:
        shares = (
            ("Delay factor", pace.delay_factor),
            ("Share of its days on this job", pace.availability),
            ("Share of its pace kept up", pace.efficiency),
        )
        inputs += [("Man-days", f"{pace.man_days(hours):.1f}")]
        inputs += [("Crew", f"{pace.crew} at {pace.hours_per_workday:g} h a day")]
        inputs += [(label, f"{share:g}") for label, share in shares if share != 1]
    rule = "Man-days shared by the crew, rounded up to whole working days, at least one"
    return Explanation(rule, tuple(inputs), MAN_DAYS_SOURCE)


def step_quantities(walls: Sequence[WallWorkUp], standards: Standards) -> tuple[StepQuantities, ...]:
    """What the hours of each step of the chain grow with.

    walls: worked up. standards: how many coats there are, by them. Returns the steps with hours, none without walls.
    Source: as `plan_activities`.

    >>> step_quantities((), Standards({}, ()))
    ()
    """
    if not walls:
        return ()
    hours = _Hours(walls, standards, [], "metric")
    _chain(hours, _has_trim(walls), _painted(walls))
    return tuple(hours.quantities)


def _has_trim(walls: Sequence[WallWorkUp]) -> bool:
    return any(w.spec.trims or w.cased for w in walls)


def _chain(hours: _Hours, trims: bool, painted_sqft: float) -> list[_Row]:
    walls = hours.walls
    coats = max((COATS_OF_LEVEL[face.level] for w in walls for face in (w.spec.left, w.spec.right)), default=0)
    length_m = sum(w.curve.centre_length_mm for w in walls) / 1000
    studs = float(sum(w.stud_count for w in walls))
    layer_sqft = sqft_from_mm2(sum(layer.net_area_mm2 for w in walls for plan in w.face_plans for layer in plan.layers))
    casings = [casing for w in walls for casing in w.casings]
    trim_m = (sum(trim.net_mm for w in walls for trim in w.trims) + sum(casing.value for casing in casings)) / 1000
    openings = float(sum(len(w.curve.openings) for w in walls))
    trim_pieces = float(sum(len(trim.pieces) for w in walls for trim in w.trims))
    trim_pieces += sum(len(casing.pieces_mm) for casing in casings)

    def of_area(what: str, sqft: float, standard: str) -> list[_Counted]:
        return [hours.driver(what, sqft, "sq ft", standard, 1000)]

    framing = [
        hours.driver("Studs", studs, "", "framing_hours_per_stud"),
        hours.driver("Openings", openings, "", "framing_hours_per_opening"),
    ]
    rows = [
        hours.row("layout", "Setting out", [hours.of_length(length_m, "layout_hours_per_m")], False),
        hours.row("framing", "Track and studs", framing, True),
        ("inspection", "Services and inspection", 0.0, Explanation("No hours of the firm's own", (), "")),
        hours.row("boards", "Hanging board", of_area("All layers", layer_sqft, "board_hours_per_1000sqft"), True),
    ]
    for coat in range(1, coats + 1):
        name = "Tape and first coat" if coat == 1 else f"Coat {coat}"
        coated = of_area("Faces that take it", _coated_sqft(walls, coat), "coat_hours_per_1000sqft")
        rows.append(hours.row(f"coat-{coat}", name, coated, True))
    primer = hours.standard("primer_coats") if painted_sqft else 0.0
    if primer:
        primed = of_area("Painted faces, all coats", painted_sqft * primer, "paint_hours_per_1000sqft")
        rows.append(hours.row("primer", "Primer", primed, False))
    if trims:
        fixing = [
            hours.of_length(trim_m, "trim_hours_per_m"),
            hours.driver("Pieces", trim_pieces, "", "trim_hours_per_piece"),
        ]
        rows.append(hours.row("trim", "Trim", fixing, True))
    paint = hours.standard("paint_coats") if painted_sqft else 0.0
    if paint:
        painted = of_area("Painted faces, all coats", painted_sqft * paint, "paint_hours_per_1000sqft")
        rows.append(hours.row("paint", "Paint", painted, False))
    return rows


def _coated_sqft(walls: Sequence[WallWorkUp], coat: int) -> float:
    """Area of the faces whose finish level takes so many coats."""
    return sqft_from_mm2(
        sum(
            w.finished_area_mm2(face)
            for w in walls
            for face in ("left", "right")
            if COATS_OF_LEVEL[w.spec.face(face).level] >= coat
        )
    )


def _painted(walls: Sequence[WallWorkUp]) -> float:
    return sqft_from_mm2(
        sum(w.finished_area_mm2(face) for w in walls for face in ("left", "right") if w.spec.face(face).painted)
    )
