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
    result = [*_of_hours(records, standards), *_of_waste(records)]
    return sorted(result, key=lambda suggestion: not suggestion.is_offered)


def suggestion_of(standard: str) -> Suggestion | None:
    return next((suggestion for suggestion in suggestions() if suggestion.standard == standard), None)


def _of_hours(records: Sequence[JobRecord], standards: Standards) -> Iterator[Suggestion]:
    rates = {name: fact.number for name, fact in standards.facts.items()}
    for name in TEACHES:
        fact, jobs = standards.fact(name), of_hours(records, name, rates)
        if fact is None or not jobs:
            continue
        hours = lesson(fact.value, jobs)
        try:
            check_standard(name, hours.value)
        except SpecError:
            hours = _not_offered(hours, OUT_OF_BOUNDS)
        yield Suggestion(name, STANDARD_SPECS[name].label, "h", fact.value, hours.value, hours.typical, hours)


def _of_waste(records: Sequence[JobRecord]) -> Iterator[Suggestion]:
    codes = sorted({code for record in records for code in record.materials})
    for row in Material.objects.filter(code__in=codes, waste__isnull=False).order_by("name", "code"):
        assert row.waste is not None, "asked for"
        jobs = of_waste(records, row.code, row.waste)
        result = lesson(1 + row.waste, jobs)
        result = _not_offered(result, BELOW_NET) if result.value < 1 else result
        was, value, typical = (amount - 1 for amount in (result.was, result.value, result.typical))
        label = f"Waste of {row.name}"
        yield Suggestion(f"{WASTE}{row.code}", label, row.unit_used, was, value, typical, result, row.code)


def _not_offered(result: Lesson, why: str) -> Lesson:
    return replace(result, why_not=result.why_not or why)
