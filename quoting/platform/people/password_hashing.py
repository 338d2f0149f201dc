"""Hashing a password takes 100 MB for a moment, so each process does it one at a time."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.contrib.auth.hashers import Argon2PasswordHasher

MAX_IN_LINE = 2
MAX_WAIT_S = 2.0


class TooManyAtOnce(Exception):
    wait_s = 5


class Line:
    """Lets one in at a time. Few wait, and briefly: whoever waits keeps a thread from answering pages."""

    def __init__(self) -> None:
        self._in_line = threading.BoundedSemaphore(MAX_IN_LINE)
        self._turn = threading.Lock()

    def refuse_when_full(self) -> None:
        """Before anything is read or written for a log-in that would not get its turn."""
        if not self._in_line.acquire(blocking=False):
            raise TooManyAtOnce
        self._in_line.release()

    @contextmanager
    def turn(self) -> Iterator[None]:
        if not self._in_line.acquire(blocking=False):
            raise TooManyAtOnce
        try:
            if not self._turn.acquire(timeout=MAX_WAIT_S):
                raise TooManyAtOnce
            try:
                yield
            finally:
                self._turn.release()
        finally:
            self._in_line.release()


line = Line()


class Argon2OneAtATime(Argon2PasswordHasher):
    def encode(self, *given: Any, **named: Any) -> str:
        with line.turn():
            return super().encode(*given, **named)

    def verify(self, *given: Any, **named: Any) -> bool:
        with line.turn():
            return super().verify(*given, **named)
