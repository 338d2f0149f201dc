"""A worker process for as long as a command needs one."""

import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from types import TracebackType

from django.conf import settings

from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services import chores
from quoting.platform.errands.supervisor import LOOK_EVERY_S, Child, Supervisor
from quoting.platform.errands.worker import WorkerRunsAlready, hold_lock

SWEEP_EVERY_S = 5.0
MAX_WAIT_S = 300.0


class ErrandsTookTooLong(Exception):
    pass


def worker_command() -> list[str]:
    if settings.REDIS_URL:
        return [sys.executable, "-m", "celery", "-A", "quoting.celery", "worker", "--loglevel", "WARNING"]
    return [sys.executable, str(Path(settings.BASE_DIR) / "manage.py"), "worker"]


def a_worker_is_alive() -> bool:
    """The embedded worker holds a lock for as long as it lives, which tells more than how old its beat is."""
    try:
        with hold_lock(Path(settings.DATA_DIR) / "worker.lock"):
            return False
    except WorkerRunsAlready:
        return True


class WorkerForNow:
    """Starts a worker unless one is at work, starts it again when it dies, and ends it afterwards."""

    def __init__(self) -> None:
        # Celery workers may live on other machines: one more does no harm.
        result = not settings.REDIS_URL and a_worker_is_alive()
        self._staff = Supervisor([] if result else [Child("worker", worker_command())])
        self.was_there = result

    def __enter__(self) -> "WorkerForNow":
        self._staff.look()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._staff.stop_all()

    def wait_for(self, errands: Sequence[Errand], tell: Callable[[Errand], None]) -> None:
        """Until every errand is done or failed. What a dead worker held, the next takes over at once."""
        ends_at = time.monotonic() + MAX_WAIT_S
        sweeps_at = time.monotonic() + SWEEP_EVERY_S
        rows: dict[int, tuple[str, str, int]] = {}
        while time.monotonic() < ends_at:
            self._staff.look()
            for errand in errands:
                errand.refresh_from_db()
                now = (errand.state, errand.progress_text, errand.tries)
                if rows.get(errand.pk) != now:
                    rows[errand.pk] = now
                    tell(errand)
            if all(errand.is_over for errand in errands):
                return
            if time.monotonic() >= sweeps_at:
                chores.sweep(clock.now())
                sweeps_at = time.monotonic() + SWEEP_EVERY_S
            time.sleep(LOOK_EVERY_S)
        waiting = ", ".join(f"{errand.kind} ({errand.state})" for errand in errands if not errand.is_over)
        raise ErrandsTookTooLong(f"Not finished within {MAX_WAIT_S:.0f} s: {waiting}.")
