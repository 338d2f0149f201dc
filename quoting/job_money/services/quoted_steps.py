"""Steps of work that are quoted beside the planned chain, for whoever enters hours."""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from jobs.hours.services.steps import Step, more_steps
from jobs.jobs.models import Job
from quoting.core.money.quoted import agreed_items
from quoting.job_money.services.note_costs import notes_of
from quoting.job_money.services.quoted_sides import quoted_sides_of


def quoted_steps(job: Job) -> Iterator[Step]:
    """Of the accepted quote and its signed notes."""
    side = quoted_sides_of([job.pk]).get(job.pk)
    if side is None:
        return
    for item in agreed_items(side.quoted, notes_of([job.pk])[job.pk]).values():
        if item.category == "labour":
            yield Step(item.item, item.what, _minutes(item.quantity) or None)


def _minutes(hours: Fraction) -> int:
    exact = hours * 60
    return int((Decimal(exact.numerator) / exact.denominator).to_integral_value(ROUND_HALF_UP))


more_steps.append(quoted_steps)
