"""The default chain of activities of a job, drawn from its takeoff: what is done, for how long, after what.

Durations come from hours (quantity x the firm's standard x curve factor) and the crew's pace, rounded up to
whole working days. Drying waits run by the clock, everything else on the firm's calendar and the site's.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from catalog.core.specs import Material
from catalog.core.standards import Standards
from catalog.core.units import sqft_from_mm2
from catalog.core.workdays import WorkCalendar
from jobs.core.assembly import WallWorkUp
from jobs.core.critical_path import DatedActivity, DatedTimes, Link, NetworkError, schedule
from jobs.core.explanation import Explanation
from jobs.core.findings import Finding
from jobs.core.hours import MAN_DAYS_SOURCE, Driver, Pace
from jobs.core.job import JobSpec

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

_PACE = ("hours_per_workday", "delay_factor", "crew_availability", "crew_efficiency")
_GIVE_DAYS_ONLY = frozenset(f"standards/{name}" for name in (*_PACE, "inspection_workdays", "coat_dry_hours"))


@dataclass(frozen=True)
class PlannedActivity:
    """One activity of the chain: hours for the whole crew together, whole working days, why, and its dates.

    explanation: of the hours; days_explanation: of the working days. times: None while the job has no start day.
    """

    key: str
    name: str
    hours: float
    duration_workdays: int
    explanation: Explanation
    days_explanation: Explanation
    times: DatedTimes | None = None


@dataclass(frozen=True)
class ActivityPlan:
    """The chain with its links; finish is None while the job has no start day."""

    activities: tuple[PlannedActivity, ...]
    links: tuple[Link, ...]
    finish: date | None
    findings: tuple[Finding, ...] = ()

    def start_of(self, key: str) -> date | None:
        """The day an activity starts, or None without dates or without that activity.

        >>> ActivityPlan((), (), None).start_of("trim") is None
        True
        """
        for activity in self.activities:
            if activity.key == key and activity.times is not None:
                return activity.times.early_start
        return None


def hours_gaps(plan: ActivityPlan, walls: Sequence[WallWorkUp]) -> tuple[Finding, ...]:
    """What is missing without which some of the hours are left out.

    plan: the chain. walls: those it was drawn from. Returns the gaps of the firm's standards and of the walls; those
    that only keep the chain from being dated are not among them. Source: own rule, a gap is never zero hours.

    >>> gap = Finding("standards/coat_hours_per_1000sqft", "gap", "It is not stated.")
    >>> of_days = Finding("standards/coat_dry_hours", "gap", "It is not stated.")
    >>> hours_gaps(ActivityPlan((), (), None, (gap, of_days)), ()) == (gap,)
    True
    """
    of_standards = [one for one in plan.findings if one.key.startswith("standards/") and one.key not in _GIVE_DAYS_ONLY]
    found = [*of_standards, *(one for wall in walls for one in wall.findings)]
    return tuple(one for one in found if one.weight == "gap")


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
    job: JobSpec, walls: Sequence[WallWorkUp], standards: Standards, calendar: WorkCalendar
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
    hours = _Hours(walls, standards, findings)
    coats = max((COATS_OF_LEVEL[face.level] for w in walls for face in (w.spec.left, w.spec.right)), default=0)
    planned = _chain(hours, coats, any(w.spec.trims for w in walls), _painted(walls))
    changes = {change.key: change for change in job.activities}
    for key in changes.keys() - {key for key, *_ in planned}:
        findings.append(
            Finding(
                f"activities/{key}",
                "gap",
                f'The job changes activity "{key}", which its chain does not have; these are '
                f"{', '.join(key for key, *_ in planned)}.",
            )
        )
    kept = [one for one in planned if not (one[0] in changes and changes[one[0]].left_out)]
    pace = hours.pace(job.crew)
    waiting = hours.standard("inspection_workdays")
    activities = []
    for key, name, needed, explanation in kept:
        changed = changes[key].duration_workdays if key in changes else None
        computed = math.ceil(waiting) if key == "inspection" else pace.workdays(needed) if pace else 1
        why = _INSPECTED if key == "inspection" else _why_days(needed, pace)
        if changed is not None:
            inputs = (*why.inputs, ("Computed", f"{computed} working days"), ("Set", f"{changed} working days"))
            why = Explanation("Set for this job", inputs, why.source)
        days = computed if changed is None else changed
        activities.append(PlannedActivity(key, name, needed, days, explanation, why))
    # A coat goes on in the course of a day and dries from then: of 24 h, eight pass before the day is over.
    dry_hours = max(0.0, hours.standard("coat_dry_hours") - (pace.hours_per_workday if pace else 0.0))
    links = _links([one.key for one in activities], dry_hours)
    if job.start_on is None or any(finding.weight == "gap" for finding in findings):
        return ActivityPlan(tuple(activities), links, None, tuple(findings))
    return _dated(job, activities, links, calendar, findings)


def _start_on_a_closed_day(job: JobSpec, calendar: WorkCalendar) -> Iterable[Finding]:
    if job.start_on is not None and not calendar.is_workday(job.start_on):
        begins = calendar.on_or_after(job.start_on)
        told = (
            f"The first day on site, {job.start_on:%A} {job.start_on.isoformat()}, is not worked on this job: "
            f"it begins on {begins:%A} {begins.isoformat()}."
        )
        yield Finding("job/start_on/closed", "caution", told, "The firm's calendar and the site's closed days")


def _dated(
    job: JobSpec,
    activities: list[PlannedActivity],
    links: tuple[Link, ...],
    calendar: WorkCalendar,
    findings: list[Finding],
) -> ActivityPlan:
    assert job.start_on is not None
    not_before = {change.key: change.not_before for change in job.activities}
    dated = [DatedActivity(a.key, a.duration_workdays, calendar, not_before.get(a.key)) for a in activities]
    try:
        result = schedule(dated, links, job.start_on)
    except NetworkError as error:
        findings.append(Finding("activities/dates", "gap", str(error)))
        return ActivityPlan(tuple(activities), links, None, tuple(findings))
    timed = tuple(replace(one, times=result.times[one.key]) for one in activities)
    return ActivityPlan(timed, links, result.finish, tuple(findings))


_Row = tuple[str, str, float, Explanation]


class _Hours:
    """Hours of each step from the walls and the firm's standards; a missing standard is noted once."""

    def __init__(self, walls: Sequence[WallWorkUp], standards: Standards, findings: list[Finding]) -> None:
        self.walls = walls
        self._standards = standards
        self._findings = findings

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

    def driver(self, what: str, quantity: float, unit: str, standard: str, per: float = 1) -> tuple[Driver, str]:
        """What drives the hours at the firm's rate, and the source of the rate."""
        rate, fact = self.standard(standard), self._standards.fact(standard)
        return Driver(what, quantity, unit, rate, per), fact.source if fact else ""

    def row(self, key: str, name: str, drivers: Sequence[tuple[Driver, str]], curved: bool) -> _Row:
        """The hours of a step; a driver after the first is left out where it adds nothing."""
        first, *others = drivers
        counted = [first, *(one for one in others if one[0].hours)]
        factor = self.standard("curve_factor") if curved else 1.0
        inputs = [words for driver, _ in counted for words in driver.in_words]
        sources = [source for _, source in counted]
        rule = "Quantity x rate"
        if len(counted) > 1:
            rule += ", added up"
        if curved:
            rule += " x curve factor"
            inputs.append(("Curve factor", f"{factor:g}"))
            fact = self._standards.fact("curve_factor")
            sources.append(f"curve factor: {fact.source}" if fact else "")
        source = "; ".join(dict.fromkeys(one for one in sources if one))
        hours = sum(driver.hours for driver, _ in counted) * factor
        return key, name, hours, Explanation(rule, tuple(inputs), source)


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


def _chain(hours: _Hours, coats: int, trims: bool, painted_sqft: float) -> list[_Row]:
    walls = hours.walls
    length_m = sum(w.curve.centre_length_mm for w in walls) / 1000
    studs = float(sum(w.stud_count for w in walls))
    layer_sqft = sqft_from_mm2(sum(layer.net_area_mm2 for w in walls for plan in w.face_plans for layer in plan.layers))
    trim_m = sum(trim.net_mm for w in walls for trim in w.trims) / 1000
    openings = float(sum(len(w.curve.openings) for w in walls))
    trim_pieces = float(sum(len(trim.pieces) for w in walls for trim in w.trims))

    def of_area(what: str, sqft: float, standard: str) -> list[tuple[Driver, str]]:
        return [hours.driver(what, sqft, "sq ft", standard, 1000)]

    framing = [
        hours.driver("Studs", studs, "", "framing_hours_per_stud"),
        hours.driver("Openings", openings, "", "framing_hours_per_opening"),
    ]
    rows = [
        hours.row("layout", "Setting out", [hours.driver("Length", length_m, "m", "layout_hours_per_m")], False),
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
            hours.driver("Length", trim_m, "m", "trim_hours_per_m"),
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


def _links(keys: Sequence[str], dry_hours: float) -> tuple[Link, ...]:
    links = []
    for before, after in pairwise(keys):
        dries = before.startswith("coat-")
        links.append(Link(before, after, lag_elapsed_hours=math.ceil(dry_hours) if dries else 0))
    return tuple(links)
