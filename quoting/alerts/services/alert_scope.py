"""What is still to be ordered, read from the stored needs. A row nobody can read is told by name and stops no other."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db import DataError
from django.db.models import Exists, OuterRef, Q, QuerySet

from jobs.core.ordering.alerts import LATE, AlertError, Watched
from jobs.needs.models import LEFT_TO_ORDER, StoredNeed
from jobs.orders.models import OrderLine, OrderState, Release
from jobs.orders.services.to_decide import decided_items, is_to_decide
from quoting.alerts.models import Alert

# What reading a day from a row raises that no day can be made of, by engine.
UNREADABLE = (ValueError, TypeError, OverflowError, DataError)
ItemKey = tuple[int, str]


@dataclass(frozen=True)
class BadItem:
    job_id: int
    material: str
    sentence: str


@dataclass(frozen=True)
class Watching:
    """needs: by job and material, with what the core watches of each; bad: what cannot be watched."""

    needs: dict[ItemKey, StoredNeed]
    items: dict[ItemKey, Watched]
    bad: tuple[BadItem, ...]


def to_be_ordered() -> QuerySet[StoredNeed]:
    """Of open jobs, neither released nor placed; what is on order only in part, released or not."""
    item = {"job": OuterRef("job"), "material_id": OuterRef("material")}
    released = Release.objects.filter(ended_at=None, **item)
    on_order = OrderLine.objects.filter(order__state=OrderState.PLACED, **item)
    # The release was of what is on order already; of the rest nobody has said anything yet.
    waiting = ~Exists(released) | Exists(on_order)
    return StoredNeed.objects.filter(LEFT_TO_ORDER, waiting).select_related("job")


def with_something_to_come(until: date | None) -> QuerySet[StoredNeed]:
    """Those an alert can be due of; until: a day after which none can, None to look at all."""
    late = Alert.objects.filter(
        job=OuterRef("job"), material=OuterRef("material"), day=OuterRef("order_by"), threshold=LATE
    )
    dated = to_be_ordered().filter(~Exists(late), order_by__isnull=False)
    return dated if until is None else dated.filter(Q(order_by__lte=until) | Q(decide_by__lte=until))


def watch(needs: QuerySet[StoredNeed]) -> Watching:
    rows, bad = _read(needs)
    decided = decided_items({row.job_id for row in rows if is_to_decide(row, is_decided=False)})
    result: dict[ItemKey, StoredNeed] = {}
    items: dict[ItemKey, Watched] = {}
    for row in rows:
        key = (row.job_id, row.material)
        try:
            items[key] = _watched(row, key in decided)
        except AlertError as problem:
            bad.append(BadItem(row.job_id, row.material, str(problem)))
        else:
            result[key] = row
    return Watching(result, items, tuple(bad))


def _watched(row: StoredNeed, is_decided: bool) -> Watched:
    to_decide = is_to_decide(row, is_decided=is_decided)
    return Watched(row.job.key, row.material, row.order_by, row.decide_by if to_decide else None)


def _read(needs: QuerySet[StoredNeed]) -> tuple[list[StoredNeed], list[BadItem]]:
    try:
        return list(needs), []
    except UNREADABLE:
        return _read_one_by_one(needs)


def _read_one_by_one(needs: QuerySet[StoredNeed]) -> tuple[list[StoredNeed], list[BadItem]]:
    rows, bad = [], []
    names: Iterable[tuple[int, int, str]] = needs.values_list("pk", "job_id", "material")
    for pk, job_id, material in list(names):
        try:
            rows += list(needs.filter(pk=pk))
        except UNREADABLE as problem:
            message = f"A day of {material} cannot be read ({problem}); save the job to count its dates again."
            bad.append(BadItem(job_id, material, message))
    return rows, bad
