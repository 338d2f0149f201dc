"""Items of open jobs that have no order-by day, by what each lacks: silence about them would read as nothing to do."""

from collections import Counter, defaultdict
from dataclasses import dataclass
from typing import Literal

from jobs.core.ordering.needs import DatedNeed
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.dates.services.ordered_items import covered, lines_of_items
from jobs.needs.models import LEFT_TO_ORDER, StoredNeed

Lack = Literal["supplier", "lead", "day"]
LACKS: tuple[Lack, ...] = ("supplier", "lead", "day")
WORDS: dict[Lack, str] = {"supplier": "no supplier", "lead": "no lead time", "day": "no day on site"}


@dataclass(frozen=True)
class Undated:
    """So many items, of these jobs, that lack one and the same thing."""

    lack: Lack
    items: int
    job_ids: tuple[int, ...]

    @property
    def sentence(self) -> str:
        jobs = "1 job" if len(self.job_ids) == 1 else f"{len(self.job_ids)} jobs"
        items = f"1 item of {jobs} has" if self.items == 1 else f"{self.items} items of {jobs} have"
        return f"{items} {WORDS[self.lack]} yet, so no day to order by."


def undated_items(read: OpenJobItems) -> list[Undated]:
    """Of what no placed order stands for. In a number of queries that does not grow with the items."""
    counts, jobs = Counter[Lack](), defaultdict[Lack, set[int]](set)
    rows = StoredNeed.objects.filter(LEFT_TO_ORDER, order_by=None).exclude(job__in=read.live_ids).exclude(quantity=0)
    items = [_of_row(*entry) for entry in rows.values_list("job_id", "supplier", "production_days")]
    ordered = covered(lines_of_items(read.live_items)) if read.live_items else {}
    items += [
        (item.job.pk, _of_need(item.need))
        for item in read.live_items
        if item.need.dates is None and item.need.quantity != 0 and (item.job.pk, item.need.material) not in ordered
    ]
    for job, lack in items:
        counts[lack] += 1
        jobs[lack].add(job)
    return [Undated(lack, counts[lack], tuple(sorted(jobs[lack]))) for lack in LACKS if counts[lack]]


def _of_row(job_id: int, supplier: str, production_days: int | None) -> tuple[int, Lack]:
    return job_id, _lack(bool(supplier), production_days is not None)


def _of_need(need: DatedNeed) -> Lack:
    return _lack(bool(need.supplier), need.dated_by is not None)


def _lack(has_supplier: bool, has_term: bool) -> Lack:
    return "day" if has_supplier and has_term else "lead" if has_supplier else "supplier"
