import logging
from collections.abc import Callable
from datetime import datetime

from celery import current_app
from django.conf import settings

from quoting.platform.errands.services import heartbeats
from quoting.platform.errands.services.errands import sweep_errands
from quoting.platform.firm_day import by_the_firms_clock

log = logging.getLogger(__name__)

Chore = Callable[[datetime], None]
_chores: dict[str, Chore] = {}


def every_minute(name: str) -> Callable[[Chore], Chore]:
    """Register what the tick does each minute. A chore must bear being run by two ticks at once."""

    def register(chore: Chore) -> Chore:
        if name in _chores:
            raise ValueError(f"Two chores are registered under the name {name!r}.")
        _chores[name] = chore
        return chore

    return register


def tick(now: datetime) -> list[str]:
    """Do every chore; one that fails stops none of the others. The names of those that failed."""
    with by_the_firms_clock():
        failed = [name for name, chore in _chores.items() if not _does(name, chore, now)]
    heartbeats.beat("tick", now)
    return failed


def sweep(now: datetime) -> int:
    if settings.REDIS_URL:
        _ring_for_a_heartbeat()
    return sweep_errands(now)


def _does(name: str, chore: Chore, now: datetime) -> bool:
    try:
        chore(now)
    except Exception:
        log.exception("chore failed", extra={"fields": {"chore": name}})
        return False
    return True


def _ring_for_a_heartbeat() -> None:
    task = current_app.tasks["quoting.beat_worker"]
    try:
        task.apply_async(retry=False, expires=60)
    except Exception as error:  # the broker is down; the stale heartbeat will say so
        log.warning("worker not rung", extra={"fields": {"why": type(error).__name__}})
