"""The default chain of activities of a job, drawn from its takeoff: what is done, for how long, after what.

Durations come from hours (quantity x the firm's standard x curve factor), crew and hours a day, rounded up to
whole working days. Drying waits run by the clock, everything else on the firm's calendar and the site's.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
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

_GIVE_DAYS_ONLY = frozenset(
    f"standards/{name}" for name in ("hours_per_workday", "inspection_workdays", "coat_dry_hours")
)


@dataclass(frozen=True)
class PlannedActivity:
    """One activity of the chain: hours for the whole crew together, whole working days, why, and its dates.

    times: None while the job has no start day.
    """

    key: str
    name: str
    hours: float
    duration_workdays: int
    explanation: Explanation
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
    (the firm's, less the site's own closures). A missing standard is a gap, and the chain is then not dated.
    Source: own convention for the order; GA-214 for the coats of a level.
    """
    findings: list[Finding] = []
    hours = _Hours(walls, standards, findings)
    coats = max((COATS_OF_LEVEL[face.level] for w in walls for face in (w.spec.left, w.spec.right)), default=0)
    planned = _chain(hours, coats, any(w.spec.trims for w in walls), _painted(walls))
    changes = {change.key: change for change in job.activities}
    for key in changes.keys() - {key for key, *_ in planned}:
        findings.append(
            Finding(
                f"activities/{key}",
                "gap",
                f"The job changes activity {key!r}, which its chain does not have.",
            )
        )
    kept = [one for one in planned if not (one[0] in changes and changes[one[0]].left_out)]
    per_day = hours.standard("hours_per_workday")
    waiting = hours.standard("inspection_workdays")
    activities = []
    for key, name, needed, explanation in kept:
        changed = changes[key].duration_workdays if key in changes else None
        if changed is not None:
            days = changed
            explanation = Explanation(
                "Set for this job",
                (("Computed hours", f"{needed:.1f} h"), ("Set", f"{days} working days")),
                "",
            )
        elif key == "inspection":
            days = math.ceil(waiting)
        else:
            days = max(1, math.ceil(needed / (job.crew * per_day) - 1e-9)) if per_day else 1
        activities.append(PlannedActivity(key, name, needed, days, explanation))
    # A coat goes on in the course of a day and dries from then: of 24 h, eight pass before the day is over.
    dry_hours = max(0.0, hours.standard("coat_dry_hours") - per_day)
    links = _links([one.key for one in activities], dry_hours)
    if job.start_on is None or any(finding.weight == "gap" for finding in findings):
        return ActivityPlan(tuple(activities), links, None, tuple(findings))
    return _dated(job, activities, links, calendar, findings)


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
    timed = tuple(
        PlannedActivity(a.key, a.name, a.hours, a.duration_workdays, a.explanation, result.times[a.key])
        for a in activities
    )
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

    def row(self, key: str, name: str, quantity: float, unit: str, standard: str, per: float, curved: bool) -> _Row:
        rate = self.standard(standard)
        factor = self.standard("curve_factor") if curved else 1.0
        inputs = [("Quantity", f"{quantity:.1f} {unit}"), ("Rate", f"{rate:g} h per {per:g} {unit}")]
        if curved:
            inputs.append(("Curve factor", f"{factor:g}"))
        fact = self._standards.fact(standard)
        explanation = Explanation("Quantity x rate x curve factor", tuple(inputs), fact.source if fact else "")
        return key, name, quantity / per * rate * factor, explanation


def _chain(hours: _Hours, coats: int, trims: bool, painted_sqft: float) -> list[_Row]:
    walls = hours.walls
    length_m = sum(w.curve.centre_length_mm for w in walls) / 1000
    studs = float(sum(w.stud_count for w in walls))
    layer_sqft = sqft_from_mm2(sum(layer.net_area_mm2 for w in walls for plan in w.face_plans for layer in plan.layers))
    trim_m = sum(trim.net_mm for w in walls for trim in w.trims) / 1000
    rows = [
        hours.row("layout", "Setting out", length_m, "m", "layout_hours_per_m", 1, False),
        hours.row("framing", "Track and studs", studs, "studs", "framing_hours_per_stud", 1, True),
        ("inspection", "Services and inspection", 0.0, Explanation("The firm's usual wait", (), "")),
        hours.row("boards", "Hanging board", layer_sqft, "sq ft", "board_hours_per_1000sqft", 1000, True),
    ]
    for coat in range(1, coats + 1):
        name = "Tape and first coat" if coat == 1 else f"Coat {coat}"
        coated_sqft = _coated_sqft(walls, coat)
        rows.append(hours.row(f"coat-{coat}", name, coated_sqft, "sq ft", "coat_hours_per_1000sqft", 1000, True))
    if painted_sqft:
        rows.append(hours.row("primer", "Primer", painted_sqft, "sq ft", "paint_hours_per_1000sqft", 1000, False))
    if trims:
        rows.append(hours.row("trim", "Trim", trim_m, "m", "trim_hours_per_m", 1, True))
    if painted_sqft:
        paint = hours.standard("paint_coats")
        rows.append(hours.row("paint", "Paint", painted_sqft * paint, "sq ft", "paint_hours_per_1000sqft", 1000, False))
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
