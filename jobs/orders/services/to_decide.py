"""What has to be signed off before it is ordered: nothing that is stocked, and nothing that was ordered once.

What came bad is ordered again as it was. Today, the order dates, mails and calendars all ask here.
"""

from collections.abc import Collection
from typing import Protocol

from django.db.models import Exists, OuterRef, Q, QuerySet

from jobs.orders.models import OrderLine, OrderState, SignOff
from jobs.orders.services.ordered_so_far import ItemKey


class _Need(Protocol):
    @property
    def supply(self) -> str: ...
    @property
    def sign_off_workdays(self) -> int: ...


def is_to_decide(need: _Need, *, is_decided: bool) -> bool:
    return need.supply != "stocked" and need.sign_off_workdays > 0 and not is_decided


def decided_items(job_ids: Collection[int]) -> set[ItemKey]:
    """Those somebody signed off, and those that were ordered once."""
    return {
        key
        for rows in (_agreed(), _ordered())
        for key in rows.filter(job__in=job_ids).order_by().values_list("job_id", "material_id").distinct()
    }


def rows_to_decide() -> Q:
    """Of stored needs of open jobs; as `is_to_decide` says of each."""
    item = {"job": OuterRef("job"), "material_id": OuterRef("material")}
    is_decided = Q(Exists(_agreed().filter(**item))) | Q(Exists(_ordered().filter(**item)))
    is_made = ~Q(supply="stocked") & Q(sign_off_workdays__gt=0)
    return is_made & ~is_decided


def _agreed() -> QuerySet[SignOff]:
    return SignOff.objects.filter(agreed_on__isnull=False)


def _ordered() -> QuerySet[OrderLine]:
    return OrderLine.objects.filter(order__state=OrderState.PLACED)
