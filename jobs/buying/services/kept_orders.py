"""The row of what is known of each placed order, kept in the transaction that changes a fact of it."""

from collections.abc import Collection
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import Q, QuerySet

from catalog.core.ground.plain_values import to_plain
from catalog.services.book import NoFirmYet
from catalog.services.changes import catalog_number
from jobs.buying.models import KeptOrder
from jobs.buying.services.known_orders import known_orders
from jobs.core.results.known_orders import KnownOrder
from jobs.orders.models import Order, OrderState
from quoting.platform.read_once import one_page

ORDERS_AT_ONCE = 25


def orders_of_jobs_changed(job_ids: Collection[int]) -> None:
    """job_ids: of whose needs, orders or states something was written."""
    keep_orders(_placed().filter(lines__job__in=job_ids).order_by().values_list("pk", flat=True).distinct())


def catch_up_orders(now: datetime) -> None:
    """Each minute: rows that are missing, and those an older catalog was read for. Done twice it does no more."""
    behind = Q(kept=None) | Q(kept__is_open=True) & ~Q(kept__catalog_changes=catalog_number())
    keep_orders(_placed().filter(behind).order_by("pk").values_list("pk", flat=True))


def _placed() -> QuerySet[Order]:
    return Order.objects.filter(state=OrderState.PLACED)


def keep_orders(order_ids: Collection[int]) -> None:
    """Some at a time."""
    every = list(order_ids)
    for first in range(0, len(every), ORDERS_AT_ONCE):
        _keep(every[first : first + ORDERS_AT_ONCE])


@transaction.atomic
def _keep(order_ids: list[int]) -> None:
    """Held before the facts are read: of two who change one order, the second reads what the first wrote.

    Before there is a firm nothing is kept, and whoever reads reads all rows.
    """
    rows = _held(order_ids)
    with one_page():
        catalog = catalog_number()
        try:
            known = known_orders(order_ids)
        except NoFirmYet:
            return
    for row in rows:
        fill(row, known.get(row.pk), catalog)
    KeptOrder.objects.bulk_update(rows, ["facts", "is_open", "catalog_changes"])


def orders_astray() -> list[KeptOrder]:
    """Whose rows say otherwise than all that is written of them; those an older catalog was read for say so."""
    rows = list(KeptOrder.objects.filter(catalog_changes=catalog_number()).select_related("order").order_by("pk"))
    fresh = known_orders([row.pk for row in rows])
    return [row for row in rows if row.order.state == OrderState.PLACED and row.facts != _document(fresh.get(row.pk))]


def _held(order_ids: list[int]) -> list[KeptOrder]:
    present = set(KeptOrder.objects.filter(pk__in=order_ids).values_list("pk", flat=True))
    missing = [KeptOrder(order_id=pk) for pk in order_ids if pk not in present]
    KeptOrder.objects.bulk_create(missing, ignore_conflicts=True)
    return list(KeptOrder.objects.select_for_update().filter(pk__in=order_ids).order_by("pk"))


def fill(row: KeptOrder, known: KnownOrder | None, catalog: int) -> None:
    row.facts, row.is_open, row.catalog_changes = _document(known), known is not None, catalog


def _document(known: KnownOrder | None) -> dict[str, Any]:
    return to_plain(known) if known else {}
