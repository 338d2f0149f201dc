"""What helps with lines that come too late or short, worked up live: of one order, or of few lines."""

from collections.abc import Iterable
from datetime import datetime

from catalog.services.book import book_of
from jobs.deliveries.services.deviations import LineDeviation
from jobs.jobs.models import Job
from jobs.orders.services.ways import ItemWays, ways_of
from jobs.work_up.services.job_work_up import work_of


def remedies_of(deviations: Iterable[LineDeviation], moment: datetime) -> list[ItemWays]:
    """Only items with anything that helps. moment: now by the firm's own clock."""
    late = {
        (deviation.line.job_id, deviation.line.material_id)
        for deviation in deviations
        if deviation.deviation.late_workdays
    }
    if not late:
        return []
    book, helped = book_of(), list[ItemWays]()
    for job in Job.objects.filter(pk__in={job_id for job_id, _ in late}).select_related("client").order_by("pk"):
        work = work_of(job, book, moment.date(), moment.time())
        every = ways_of(work, moment)
        helped += [ways for ways in every if (job.pk, ways.item.need.material) in late and ways.remedies]
    return helped
