"""What stands of many jobs and their items that a release to order waits for, in a constant number of queries."""

from collections.abc import Callable, Collection
from dataclasses import replace
from datetime import date

from jobs.core.ordering.needs import DatedNeed
from jobs.core.ordering.release import JobStanding, ReleaseHold, SampleState, release_holds, standing_of_need
from jobs.orders.models import SignOff

Samples = dict[tuple[int, str], SampleState]
Agreements = Callable[[Collection[int], date], dict[int, JobStanding]]
_agreements: list[Agreements] = []


def read_agreements_with(reader: Agreements) -> None:
    """reader: what is agreed of jobs with their clients, which no room here knows."""
    _agreements.append(reader)


def job_standings(job_ids: Collection[int], today: date) -> dict[int, JobStanding]:
    """All but the field check, which is of each item's own walls."""
    return _agreements[-1](job_ids, today)


def samples_of(job_ids: Collection[int]) -> Samples:
    """By what was entered last of each item; one of which nothing was entered asks for none."""
    samples: Samples = {}
    for row in SignOff.objects.filter(job__in=job_ids).order_by("entered_at", "pk"):
        state: SampleState = "approved" if row.agreed_on else "asked" if row.asked_on else "to_ask"
        samples[row.job_id, row.material_id] = state
    return samples


def item_holds(
    need: DatedNeed,
    missing: Collection[str],
    checked_on: date | None,
    job: JobStanding,
    sample: SampleState,
    today: date,
) -> tuple[ReleaseHold, ...]:
    """missing: sentences of what its order does not state. checked_on: the day its walls were confirmed on site."""
    line = standing_of_need(need, tuple(missing), sample)
    return release_holds(line, replace(job, field_checked_on=checked_on), today)
