"""Every standard the record says something of: what it is, what it would be, and on which jobs that rests."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from catalog.core.materials.specs import SpecError
from catalog.core.materials.standards import STANDARD_SPECS, Standards, check_standard
from catalog.models import Material
from catalog.services.book import standards_of
from quoting.core.money.closed_jobs import TEACHES, WASTE, JobRecord, of_hours, of_waste
from quoting.core.money.learning import Lesson, lesson
from quoting.record.services.records import job_records

BELOW_NET = "less is used than the walls take"
OUT_OF_BOUNDS = "out of bounds"


@dataclass(frozen=True)
class Suggestion:
    """standard: its name, or "waste" and a code. unit: of the jobs' figures. was, value: as the catalog has them."""

    standard: str
    label: str
    unit: str
    was: Decimal
    value: Decimal
    typical: Decimal
    lesson: Lesson
    material: str = ""

    @property
    def is_waste(self) -> bool:
        return bool(self.material)

    @property
    def is_offered(self) -> bool:
        return self.lesson.is_offered


def suggestions() -> list[Suggestion]:
    """Of standards with closed jobs that agreed on work by them; those that are offered first."""
    records, standards = job_records(), standards_of()
    found = [*_of_hours(records, standards), *_of_waste(records)]
    return sorted(found, key=lambda one: not one.is_offered)


def suggestion_of(standard: str) -> Suggestion | None:
    return next((one for one in suggestions() if one.standard == standard), None)


def _of_hours(records: Sequence[JobRecord], standards: Standards) -> Iterator[Suggestion]:
    rates = {name: fact.number for name, fact in standards.facts.items()}
    for name in TEACHES:
        fact, jobs = standards.fact(name), of_hours(records, name, rates)
        if fact is None or not jobs:
            continue
        found = lesson(fact.value, jobs)
        try:
            check_standard(name, found.value)
        except SpecError:
            found = _not_offered(found, OUT_OF_BOUNDS)
        yield Suggestion(name, STANDARD_SPECS[name].label, "h", fact.value, found.value, found.typical, found)


def _of_waste(records: Sequence[JobRecord]) -> Iterator[Suggestion]:
    codes = sorted({code for one in records for code in one.materials})
    for row in Material.objects.filter(code__in=codes, waste__isnull=False).order_by("name", "code"):
        assert row.waste is not None, "asked for"
        jobs = of_waste(records, row.code, row.waste)
        found = lesson(1 + row.waste, jobs)
        found = _not_offered(found, BELOW_NET) if found.value < 1 else found
        was, value, typical = (one - 1 for one in (found.was, found.value, found.typical))
        label = f"Waste of {row.name}"
        yield Suggestion(f"{WASTE}{row.code}", label, row.unit_used, was, value, typical, found, row.code)


def _not_offered(found: Lesson, why: str) -> Lesson:
    return replace(found, why_not=found.why_not or why)
