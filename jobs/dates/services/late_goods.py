"""Items of one job that may be relied on only after the day they are needed, on order or still to be ordered."""

from datetime import date

from catalog.services.book import firm_of
from jobs.core.ordering.goods_on_order import usable_if_late
from jobs.core.ordering.needs import wants_of
from jobs.dates.services.item_schedule import items_of_work
from jobs.dates.services.ordered_items import goods_of, lines_of_items
from jobs.schedule.services.late_goods import LateGoods
from jobs.work_up.services.job_work_up import JobResult


def late_goods(work: JobResult, today: date) -> list[LateGoods]:
    """The first to be relied on first."""
    work_up = work.done
    if work_up is None:
        return []
    wants = wants_of(work_up.read.job, work_up.walls, work_up.takeoff.purchases, work_up.plan, work_up.read.book)
    stages = {want.material: want.stage for want in wants}
    items, firm, result = items_of_work(work), firm_of().calendar, []
    ordered = lines_of_items(items)
    for item in items:
        so_far = ordered.get((item.job.pk, item.need.material))
        goods = goods_of(item, so_far, firm, today) if so_far else None
        usable = usable_if_late(item.need, goods, is_covered=so_far is not None and so_far.is_covered)
        if usable is not None and stages.get(item.need.material):
            result.append(LateGoods(item.need.name, stages[item.need.material], usable))
    return sorted(result, key=lambda goods_row: (goods_row.usable_on, goods_row.what))
