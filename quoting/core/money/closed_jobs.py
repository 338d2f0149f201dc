"""What each closed job says of each standard. One record teaches one standard: hours of boards teach the curve factor,
with the flat rate held, and framing, coats, trim, paint and setting out each their own rate."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from jobs.core.schedule.hours import StepQuantities
from quoting.core.money.learning import ClosedJob

CURVE_FACTOR = "curve_factor"
WASTE = "waste "
"""A material's waste is named by this and its code."""
TEACHES: Mapping[str, tuple[str, ...]] = {
    "layout_hours_per_m": ("layout",),
    "framing_hours_per_stud": ("framing",),
    CURVE_FACTOR: ("boards",),
    "coat_hours_per_1000sqft": ("coat-",),
    "trim_hours_per_m": ("trim",),
    "paint_hours_per_1000sqft": ("primer", "paint"),
}
"""By standard, the steps whose hours teach it; a name that ends in a hyphen begins those of several."""


@dataclass(frozen=True)
class UsedMaterial:
    """How much of a material a job agreed on and used, in one unit. net: before waste, over 0. used: None where
    `why_not` says what is missing."""

    net: Decimal
    used: Decimal | None
    why_not: str = ""


@dataclass(frozen=True)
class JobRecord:
    """A closed job: what was agreed of each step, and what it took.

    hours: by step, those that count for its standard. uncoded: entries on no step. materials: by code. left_out: by
    standard, the reason somebody left the job out.
    """

    job: str
    closed_on: date
    steps: tuple[StepQuantities, ...]
    hours: Mapping[str, Decimal]
    uncoded: int = 0
    materials: Mapping[str, UsedMaterial] = field(default_factory=dict)
    left_out: Mapping[str, str] = field(default_factory=dict)


def of_hours(records: Iterable[JobRecord], standard: str, rates: Mapping[str, float]) -> list[ClosedJob]:
    """What the hours of closed jobs say of a standard.

    Args:
        records: of closed jobs. standard: one of `TEACHES`. rates: today's figures of all standards.

    Returns:
        A job each that agreed on work by this standard; those that cannot teach it say why. Hours of other rates in the
        same step are held as today's standards have them.

    Raises:
        KeyError: a standard that no hours teach.

    Source: the firm's own rule.
    """
    hours = (_of_hours(record, standard, rates) for record in records)
    return [job for job in hours if job is not None]


def _of_hours(record: JobRecord, standard: str, rates: Mapping[str, float]) -> ClosedJob | None:
    steps = [step for step in record.steps if _teaches(standard, step.key)]
    given = sum(step.hours(rates) for step in steps)
    other = {name: rate for name, rate in rates.items() if name != standard}
    held = 0.0 if standard == CURVE_FACTOR else sum(step.hours(other) for step in steps)
    by_standard = _exact(given - held)
    if by_standard <= 0:
        return None
    took = sum((hours for key, hours in record.hours.items() if _teaches(standard, key)), Decimal(0))
    actual = took - _exact(held)
    return ClosedJob(record.job, record.closed_on, by_standard, actual, _why_not(record, standard, took, actual))


def _teaches(standard: str, step: str) -> bool:
    return any(step.startswith(name) if name.endswith("-") else step == name for name in TEACHES[standard])


def _why_not(record: JobRecord, standard: str, took: Decimal, actual: Decimal) -> str:
    if standard in record.left_out:
        return record.left_out[standard]
    if record.uncoded:
        return f"{record.uncoded} {'entry' if record.uncoded == 1 else 'entries'} on no step"
    if not took:
        return "no hours entered"
    return "" if actual > 0 else "fewer hours than its other rates take"


def of_waste(records: Iterable[JobRecord], material: str, waste: Decimal) -> list[ClosedJob]:
    """What closed jobs say of the waste of a material.

    Args:
        records: of closed jobs. material: its code. waste: as today's catalog has it, as a share.

    Returns:
        A job each that agreed on it: what net and waste give, and what was used.

    Raises:
        Nothing.

    Source: waste = used / net - 1, with used = received - returned - left over (the firm's own rule).
    """
    jobs = []
    for record in records:
        entry = record.materials.get(material)
        if entry is not None:
            why = record.left_out.get(f"{WASTE}{material}", "") or entry.why_not
            by_standard = entry.net * (1 + waste)
            jobs.append(ClosedJob(record.job, record.closed_on, by_standard, entry.used or Decimal(0), why))
    return jobs


def _exact(hours: float) -> Decimal:
    """Floating sums are equal to a millionth of an hour."""
    return Decimal(repr(round(hours, 6)))
