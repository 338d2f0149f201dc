"""What a job and each of its items wait for before they are released to order."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal

from jobs.core.assembly import WallWorkUp
from jobs.core.holds import every_dimension
from jobs.core.release import JobStanding, ReleaseHold, SampleState, release_holds, standing_of_need
from jobs.core.trim_pieces import MADE_FORMS
from jobs.models import Job, SignOff
from quoting.models import PaymentReceived, QuoteRevision
from quoting.services.acceptance import answer_of
from quoting.services.contracts import accepted_revision
from quoting.services.offers import total_of
from quoting.services.orders.items import Item


def job_standing(job: Job, today: date) -> JobStanding:
    """All but the field check, which is of each item's own walls."""
    revision = accepted_revision(job)
    if revision is None:
        return JobStanding(accepted=False)
    answer = answer_of(revision)
    until = answer.cancel_until if answer else None
    return JobStanding(
        accepted=True,
        window_until=until if until is not None and until >= today else None,
        deposit_due=deposit_due(revision),
        deposit_received=_received(job),
    )


def deposit_due(revision: QuoteRevision) -> Decimal:
    """With the options the client chose; nought where no deposit is asked."""
    answer = answer_of(revision)
    chosen = [one["key"] for one in answer.options] if answer else []
    found = total_of(revision, chosen).deposit
    return found.amount if found else Decimal(0)


def _received(job: Job) -> Decimal:
    amounts = PaymentReceived.objects.filter(job=job, undone_at=None).values_list("amount", flat=True)
    return sum(amounts, Decimal(0))


def holds_of(item: Item, standing: JobStanding, today: date) -> tuple[ReleaseHold, ...]:
    """standing: of the item's job."""
    checked = replace(standing, field_checked_on=checked_on(item.done.walls, item.need.material))
    line = standing_of_need(item.need, item.statement.missing_sentences, sample_of(item.job, item.need.material))
    return release_holds(line, checked, today)


def checked_on(walls: Sequence[WallWorkUp], material: str) -> date | None:
    """The day from which on every dimension of the plan behind the made runs of a material is confirmed on site."""
    days: list[date] = []
    for wall in walls:
        if not any(run.material == material and run.form in MADE_FORMS for run in wall.spec.trims):
            continue
        marks = {one.dimension: one.mark for one in wall.spec.taken.marks}
        for dimension in every_dimension(wall.spec):
            if not dimension.place.startswith("pieces["):
                continue
            mark = marks.get(dimension.place)
            if mark is None or mark.how != "confirmed":
                return None
            days.append(mark.on)
    return max(days, default=None)


def sample_of(job: Job, material: str) -> SampleState:
    """By what was entered last; nothing entered means that none is asked for."""
    last = SignOff.objects.filter(job=job, material=material).first()
    if last is None:
        return "not_needed"
    if last.agreed_on is not None:
        return "approved"
    return "asked" if last.asked_on is not None else "to_ask"
