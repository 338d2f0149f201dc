"""Errands that are done anew each time somebody asks: one row, made to wait again once it is over."""

from datetime import datetime
from typing import Any

from django.db import transaction

from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services.errands import ring_after_commit


@transaction.atomic
def queue_again(kind: str, key: str, payload: dict[str, Any], now: datetime) -> None:
    """Inside the caller's transaction. One that waits already is enough, and one under way is let be.

    The row stays locked to the end of that transaction, so a worker cannot end what it does before the change it was
    not told of is there to see: its store() looks whether anything has changed since, and asks again itself.
    """
    errand, made = Errand.objects.select_for_update().get_or_create(
        kind=kind, key=key, defaults={"payload": payload, "due_at": now, "created_at": now}
    )
    if errand.is_over:
        Errand.objects.filter(pk=errand.pk).update(
            state=ErrandState.WAITING,
            payload=payload,
            due_at=now,
            tries=0,
            error="",
            finished_at=None,
            progress_text="",
            progress_percent=0,
        )
    if made or errand.is_over:
        ring_after_commit(errand.pk)
