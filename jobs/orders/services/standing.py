"""What a job and each of its items wait for before they are released to order."""

from datetime import date

from jobs.core.ordering.order_timing import checked_on
from jobs.core.ordering.release import JobStanding, ReleaseHold, SampleState
from jobs.orders.services.items import Item
from jobs.orders.services.job_standings import item_holds


def holds_of(item: Item, standing: JobStanding, sample: SampleState, today: date) -> tuple[ReleaseHold, ...]:
    """standing: of the item's job. sample: of the item."""
    checked = checked_on(item.work_up.walls, item.need.material)
    return item_holds(item.need, item.statement.missing_sentences, checked, standing, sample, today)
