import fcntl
import logging
import os
import signal
import socket
import threading
import time
from pathlib import Path
from types import FrameType
from typing import IO

from django.conf import settings
from django.db import DatabaseError, close_old_connections

from quoting.platform import clock
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services import errands, heartbeats

log = logging.getLogger(__name__)

LOOK_EVERY_S = 0.2
BEAT_EVERY_S = 20.0
PAUSE_AFTER_DATABASE_ERROR_S = 2.0


class WorkerRunsAlready(Exception):
    pass


class StopRequest:
    """Set by SIGTERM or SIGINT: the errand under way is finished, no other is begun."""

    def __init__(self) -> None:
        self._event = threading.Event()

    def listen(self) -> "StopRequest":
        signal.signal(signal.SIGTERM, self._heard)
        signal.signal(signal.SIGINT, self._heard)
        return self

    def _heard(self, number: int, frame: FrameType | None) -> None:
        self._event.set()

    def wait(self, seconds: float) -> bool:
        return self._event.wait(seconds)

    @property
    def is_set(self) -> bool:
        return self._event.is_set()


class EmbeddedWorker:
    """Does errands one after another by looking at the rows. One a data folder, which a file lock ensures."""

    def __init__(self, stop: StopRequest, lock_path: Path | None = None) -> None:
        self._stop = stop
        self._lock_path = lock_path or settings.DATA_DIR / "worker.lock"
        self._name = f"{socket.gethostname()}:{os.getpid()}"
        self._beaten_at = float("-inf")

    def run(self, *, drain: bool = False) -> None:
        """Until stopped; with drain, until no errand is waiting or under way."""
        with hold_lock(self._lock_path):
            errands.free_orphans(clock.now())
            while not self._stop.is_set:
                result = self._look()
                if not result and drain and not unfinished_errands():
                    return
                if not result:
                    self._stop.wait(LOOK_EVERY_S)

    def _look(self) -> bool:
        try:
            self._beat()
            errand_id = next_errand_id()
            if errand_id is None:
                return False
            errands.run_errand(errand_id, self._name, end_process_on_overrun=True)
            return True
        except DatabaseError:
            log.exception("the worker cannot reach its rows")
            close_old_connections()
            self._stop.wait(PAUSE_AFTER_DATABASE_ERROR_S)
            return False

    def _beat(self) -> None:
        if time.monotonic() - self._beaten_at >= BEAT_EVERY_S:
            heartbeats.beat("worker", clock.now())
            self._beaten_at = time.monotonic()


def next_errand_id() -> int | None:
    return errands.takeable(clock.now()).order_by("due_at", "pk").values_list("pk", flat=True).first()


def unfinished_errands() -> bool:
    return Errand.objects.filter(state__in=[ErrandState.WAITING, ErrandState.CLAIMED]).exists()


class hold_lock:
    def __init__(self, path: Path) -> None:
        self._path = path
        self._file: IO[str] | None = None

    def __enter__(self) -> None:
        self._file = open(self._path, "a")
        try:
            fcntl.flock(self._file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            self._file.close()
            raise WorkerRunsAlready("A worker is already at work on this data folder.") from None

    def __exit__(self, *result: object) -> None:
        if self._file:
            self._file.close()
