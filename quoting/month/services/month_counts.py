"""What is counted up of a month: rows for the bookkeeper, suppliers that came in time, hours by step."""

from collections import Counter, defaultdict
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from catalog.core.ground.declared import Count
from jobs.deliveries.models import ReceiptLine
from quoting.month.services.hand_over import OF_THE_OFFICE, OF_THE_OWNER
from quoting.month.services.posted_rows import entries_of
from quoting.month.services.sheets import filled


@dataclass(frozen=True)
class SupplierMet:
    """Of the month's deliveries: how many lines came by the day promised, of those a day was promised for."""

    supplier: str
    in_time: Annotated[int, Count()]
    of: Annotated[int, Count()]


@dataclass(frozen=True)
class StepMinutes:
    """Work on jobs by step."""

    step: str
    minutes: Annotated[int, Count()]


def counted(month: date) -> dict[str, dict[str, Any]]:
    """What counts in the month, by the files the bookkeeper gets: count of rows, and sums."""
    result = {}
    for sheet in (OF_THE_OFFICE | OF_THE_OWNER).values():
        both = filled(sheet, month, None)
        result[sheet.name] = {"rows": len(both.rows), **{name: str(entry) for name, entry in both.sums.items()}}
    return result


def suppliers_met(month: date, until: date) -> list[SupplierMet]:
    rows = ReceiptLine.objects.filter(delivery__received_on__range=(month, until), promised_on__isnull=False)
    suppliers: defaultdict[str, list[bool]] = defaultdict(list)
    for name, came, promised in rows.values_list(
        "delivery__order__supplier__name", "delivery__received_on", "promised_on"
    ):
        suppliers[name].append(came <= promised)
    return [SupplierMet(name, sum(came), len(came)) for name, came in sorted(suppliers.items())]


def hours_by_step(month: date) -> list[StepMinutes]:
    """The most first."""
    sums: Counter[str] = Counter()
    for row in entries_of(month):
        if row.job_id is not None:
            sums[row.step] += row.minutes
    hours = [StepMinutes(_step_words(step), minutes) for step, minutes in sums.items()]
    return sorted(hours, key=lambda entry: (-entry.minutes, entry.step))


def _step_words(step: str) -> str:
    return step.replace("-", " ").replace("_", " ").capitalize() or "On no step"
