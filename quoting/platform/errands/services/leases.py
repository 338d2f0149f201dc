import logging
import os
import threading
import time
from datetime import timedelta
from types import TracebackType

from django.db import DatabaseError, close_old_connections, connection

from quoting.platform import clock
from quoting.platform.errands.models import Errand, ErrandState

log = logging.getLogger(__name__)

# A killed worker's errand is free again after at most LEASE, and found by the sweep SWEEP_EVERY later:
# 40 + 30 s stays below the 90 s in which the service promises to recover.
LEASE = timedelta(seconds=40)
RENEW_EVERY_S = 10.0
EXIT_OVERRUN = 70


def renew_lease(errand_id: int, holder: str) -> bool:
    held = Errand.objects.filter(pk=errand_id, state=ErrandState.CLAIMED, claimed_by=holder)
    return bool(held.update(lease_until=clock.now() + LEASE))


class LeaseKeeper:
    """Renews the lease from a thread while the work runs, and stops doing so when the time limit has passed:
    work that hangs loses its errand instead of keeping it for ever."""

    def __init__(self, errand_id: int, holder: str, time_limit_s: float, end_process_on_overrun: bool) -> None:
        self._errand_id = errand_id
        self._holder = holder
        self._ends_at = time.monotonic() + time_limit_s
        self._end_process = end_process_on_overrun
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._keep, name=f"lease-{errand_id}", daemon=True)

    def __enter__(self) -> "LeaseKeeper":
        self._thread.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._over.set()
        self._thread.join(timeout=30)

    def _keep(self) -> None:
        try:
            while not self._over.wait(min(RENEW_EVERY_S, max(0.0, self._ends_at - time.monotonic()))):
                if time.monotonic() >= self._ends_at:
                    self._overrun()
                    return
                self._renew()
        finally:
            connection.close()

    def _renew(self) -> None:
        try:
            close_old_connections()
            renew_lease(self._errand_id, self._holder)
        except DatabaseError:
            log.warning("lease not renewed", extra={"fields": {"errand": self._errand_id}}, exc_info=True)

    def _overrun(self) -> None:
        log.error("errand ran over its time limit", extra={"fields": {"errand": self._errand_id}})
        if self._end_process:
            # Python cannot stop another thread; the supervisor starts a fresh process.
            os._exit(EXIT_OVERRUN)
