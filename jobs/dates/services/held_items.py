"""Items of open jobs that wait to be ordered, with all their release waits for, for the lists of who is next."""

from collections import defaultdict
from collections.abc import Collection, Iterable

from django.db.models import F

from jobs.core.ordering.next_steps import HeldItem
from jobs.dates.services.item_schedule import DatedItem, OpenJobItems
from jobs.dates.services.ordered_items import lines_of_items
from jobs.needs.models import LEFT_TO_ORDER, StoredNeed
from jobs.orders.services.job_standings import item_holds, job_standings, samples_of
from jobs.walls.models import Wall

MAX_HELD = 200


def held_items(read: OpenJobItems, jobs: Collection[int] | None = None) -> list[HeldItem]:
    """Those to be ordered first, of items that are not in stock. jobs: their ids, None for all that are open.

    In a number of queries that does not grow with the items.
    """
    rows = StoredNeed.objects.filter(LEFT_TO_ORDER).exclude(supply="stocked").exclude(job__in=read.live_ids)
    if jobs is not None:
        rows = rows.filter(job__in=jobs)
    first = rows.select_related("job").order_by(F("order_by").asc(nulls_last=True), "pk")[:MAX_HELD]
    items = [read.of_row(row) for row in first]
    items += [item for item in _to_order(read.live_items) if jobs is None or item.job.pk in jobs]
    return _held(items, read)


def _to_order(items: Collection[DatedItem]) -> list[DatedItem]:
    custom = [item for item in items if item.need.is_long_lead]
    ordered = lines_of_items(custom) if custom else {}
    lines = [(item, ordered.get((item.job.pk, item.need.material))) for item in custom]
    return [item for item, so_far in lines if so_far is None or not so_far.is_covered]


def _held(items: Collection[DatedItem], read: OpenJobItems) -> list[HeldItem]:
    ids, today = {item.job.pk for item in items}, read.desk.today
    standings, samples, walls = job_standings(ids, today), samples_of(ids), _wall_keys(ids)
    result = []
    for entry in items:
        need, job = entry.need, entry.job.pk
        sample = samples.get((job, need.material), "not_needed")
        holds = item_holds(need, entry.missing, entry.checked_on, standings[job], sample, today)
        order_by = need.dates.order_by if need.dates else None
        made_for = tuple(_walls_of(entry, walls))
        result.append(HeldItem(job, need.material, need.name, order_by, holds, need.open_holds, made_for))
    return result


def _wall_keys(job_ids: Iterable[int]) -> dict[int, dict[str, str]]:
    keys: defaultdict[int, dict[str, str]] = defaultdict(dict)
    for job, name, key in Wall.objects.filter(job__in=job_ids).values_list("job", "name", "key"):
        keys[job][name] = key
    return keys


def _walls_of(item: DatedItem, walls: dict[int, dict[str, str]]) -> Iterable[str]:
    """By their names in what its order states."""
    names = dict.fromkeys(run["wall"] for run in item.stated.get("runs", ()))
    return [key for name in names if (key := walls[item.job.pk].get(name))]
