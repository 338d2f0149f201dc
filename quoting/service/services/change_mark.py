"""A short mark of all that Today is made of: where it has not changed, nothing has to be shown anew."""

import hashlib
from datetime import date
from functools import cache
from typing import Any

from django.db import connection
from django.db.models import Count, Max

from jobs.orders.models import Order
from quoting.life.models import KeptLife
from quoting.platform.errands.models import Errand, ErrandState

LATEST = 20
"""Of two writers the later may commit first: its row must not hide the other's."""


def change_mark(today: date) -> str:
    """Of rows written by anybody: each fact of a job marks the row of its life in the transaction that writes it.

    What it asks does not grow with what is kept: an open page asks twice a second.
    """
    with connection.cursor() as cursor:
        text = [_rows(cursor, *pair) for pair in _asked(connection.vendor)]
    return hashlib.sha256(f"{today} {text}".encode()).hexdigest()[:16]


def _rows(cursor: Any, sql: str, params: tuple[Any, ...]) -> list[Any]:
    cursor.execute(sql, params)
    rows: list[Any] = cursor.fetchall()
    return rows


@cache
def _asked(vendor: str) -> tuple[tuple[str, tuple[Any, ...]], ...]:
    """The same each time, so they are made once."""
    lives = (
        KeptLife.objects.filter(kept_at__isnull=False).order_by("-kept_at", "-pk").values_list("pk", "kept_at")[:LATEST]
    )
    failed = Errand.objects.filter(state=ErrandState.FAILED).order_by().values("state")
    orders = Order.objects.order_by("-pk").values_list("pk")[:1]
    failures = failed.annotate(Count("pk"), Max("finished_at"))
    return tuple(entry.query.sql_with_params() for entry in (lives, orders, failures))
