import ctypes
import logging
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from types import FrameType

log = logging.getLogger(__name__)

LOOK_EVERY_S = 0.2
FIRST_PAUSE_S = 0.5
MAX_PAUSE_S = 30.0
# A process that lived this long had started well: the next pause begins small again.
LIVED_WELL_S = 60.0
GRACE_S = 15.0
PR_SET_PDEATHSIG = 1


def _end_with_parent() -> None:
    # Linux alone can do this; elsewhere a supervisor killed with -9 leaves its children running.
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGTERM)


@dataclass
class Child:
    name: str
    command: Sequence[str]
    process: subprocess.Popen[bytes] | None = None
    started_at: float = 0.0
    start_again_at: float = 0.0
    pause_s: float = FIRST_PAUSE_S
    starts: int = field(default=0)

    def start(self, now: float) -> None:
        # A group of its own: Ctrl-C reaches the supervisor alone, which then stops its children in order.
        self.process = subprocess.Popen(
            self.command,
            preexec_fn=_end_with_parent,
            process_group=0,
        )
        self.started_at = now
        self.starts += 1

    def look(self, now: float) -> None:
        if self.process is not None and self.process.poll() is not None:
            self._died(now, self.process.returncode)
        if self.process is None and now >= self.start_again_at:
            self.start(now)

    def _died(self, now: float, code: int) -> None:
        if now - self.started_at >= LIVED_WELL_S:
            self.pause_s = FIRST_PAUSE_S
        log.warning("process died", extra={"fields": {"process": self.name, "code": code, "pause_s": self.pause_s}})
        self.process = None
        self.start_again_at = now + self.pause_s
        self.pause_s = min(MAX_PAUSE_S, self.pause_s * 2)

    def send(self, number: int) -> None:
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(number)


class Supervisor:
    """Keeps child processes running: one that dies is started again, after pauses that grow while it
    keeps dying."""

    def __init__(self, children: Sequence[Child], monotonic: Callable[[], float] = time.monotonic) -> None:
        self.children = children
        self._monotonic = monotonic
        self._stop = threading.Event()

    def run(self) -> None:
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, self._heard)
        signal.signal(signal.SIGHUP, self._pass_on)
        try:
            while not self._stop.is_set():
                self.look()
                self._stop.wait(LOOK_EVERY_S)
        finally:
            self.stop_all()

    def look(self) -> None:
        for child in self.children:
            child.look(self._monotonic())

    def stop_all(self) -> None:
        for child in self.children:
            child.send(signal.SIGTERM)
        ends_at = time.monotonic() + GRACE_S
        for child in self.children:
            if child.process is None:
                continue
            try:
                child.process.wait(max(0.0, ends_at - time.monotonic()))
            except subprocess.TimeoutExpired:
                child.process.kill()
                child.process.wait()

    def _heard(self, number: int, frame: FrameType | None) -> None:
        self._stop.set()

    def _pass_on(self, number: int, frame: FrameType | None) -> None:
        for child in self.children:
            child.send(number)
