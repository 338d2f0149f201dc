"""What calendars hold of the items of jobs: their days, less what is decided, ordered or here, and what is to come."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from catalog.core.ground.plain_text import plain
from jobs.core.ordering.needs import DatedNeed
from jobs.core.ordering.order_lines import counted_words
from jobs.dates.services.item_schedule import DatedItem
from jobs.dates.services.ordered_items import lines_of_items
from jobs.needs.models import StoredNeed
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.ordered_so_far import ItemKey, OrderedSoFar, line_coming
from jobs.orders.services.to_decide import decided_items, is_to_decide
from quoting.alerts.services.calendar_events import ExpectedLine, ItemDays


@dataclass(frozen=True)
class JobItems:
    items: list[ItemDays]
    lines: list[ExpectedLine]


def items_of_jobs(job_ids: Collection[int], items: Iterable[DatedItem]) -> dict[int, JobItems]:
    """items: of those jobs. By id of the job, in a number of queries that does not grow with jobs or items."""
    items = list(items)
    ordered = lines_of_items(items) if items else {}
    decided = decided_items(job_ids)
    found = {job_id: JobItems([], []) for job_id in job_ids}
    for item in items:
        key = (item.job.pk, item.need.material)
        found[item.job.pk].items.append(_days(item.need, key, ordered.get(key), key in decided))
    for job_id, line in _expected(job_ids):
        found[job_id].lines.append(line)
    return found


def rows_as_items(job_ids: Collection[int]) -> list[DatedItem]:
    rows = StoredNeed.objects.filter(job__in=job_ids, job__closed_on=None).select_related("job")
    return [DatedItem(row.job, row.to_core(), stated=row.statement) for row in rows]


def days_not_ordered(need: DatedNeed) -> ItemDays:
    """Of an item of which nothing is on order and nothing decided."""
    return _days(need, (0, need.material), None, False)


def _days(need: DatedNeed, key: ItemKey, so_far: OrderedSoFar | None, is_decided: bool) -> ItemDays:
    dates, is_covered = need.dates, so_far is not None and so_far.is_covered
    to_order = dates is not None and not is_covered
    to_decide = to_order and is_to_decide(need, is_decided=is_decided)
    return ItemDays(
        need.material,
        need.name,
        need.supplier or "",
        dates.decide_by if dates and to_decide else None,
        dates.order_by if dates and to_order else None,
        dates.cut_off if dates else None,
        need.need_by,
        is_here=is_covered and so_far is not None and not any(line_coming(one).expected for one in so_far.every),
        part=so_far.balance.sentence if so_far and not is_covered else "",
    )


def _expected(job_ids: Collection[int]) -> Iterable[tuple[int, ExpectedLine]]:
    rows = OrderLine.objects.filter(
        job__in=job_ids, job__closed_on=None, order__state=OrderState.PLACED, ended_on=None
    ).select_related("order", "material")
    for row in rows.prefetch_related("receipts", "returns").order_by("pk"):
        coming = line_coming(row)
        if coming.expected and coming.expected_on is not None:
            unit = row.unit if coming.expected == row.quantity else counted_words(row.unit, 2)
            what = f"{plain(coming.expected)} {unit} of {row.material.name}"
            yield (
                row.job_id,
                ExpectedLine(
                    f"line {row.pk}",
                    str(row.order),
                    row.material.name,
                    what,
                    row.order.supplier_id,
                    coming.expected_on,
                    coming.promised,
                ),
            )
