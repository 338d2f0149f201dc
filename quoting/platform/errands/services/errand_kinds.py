from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any, ClassVar, Protocol, TypeVar


class ErrandRefused(Exception):
    """The work can never succeed as asked; trying again would not help. The text is shown to people."""


class LeaseLost(Exception):
    """Another worker has taken the errand over; what this one did must leave no effect."""


@dataclass(frozen=True)
class Claim:
    """What a handler is given: the errand as it was when claimed, and the name it is held under."""

    errand_id: int
    kind: str
    key: str
    payload: dict[str, Any]
    holder: str
    tries: int
    say: Callable[[str, int], None]


class ErrandKind(Protocol):
    """How one kind of errand is done, in two halves.

    work() is the slow half. It runs outside any transaction, may run more than once and must have no effect
    that a second run would double. store() is the quick half: database writes only, committed together with
    "done", and only while the lease is still held.
    """

    time_limit_s: ClassVar[int]

    def work(self, claim: Claim) -> Any: ...

    def store(self, claim: Claim, result: Any) -> None: ...


@dataclass(frozen=True)
class KindEntry:
    make: Callable[[], ErrandKind]
    time_limit_s: int


Kind = TypeVar("Kind", bound=ErrandKind)

# Celery kills a task after CELERY_TASK_TIME_LIMIT, which is the same ten minutes.
LONGEST = timedelta(minutes=10)
_entries: dict[str, KindEntry] = {}


def errand_kind(name: str) -> Callable[[type[Kind]], type[Kind]]:
    def register(handler: type[Kind]) -> type[Kind]:
        if name in _entries:
            raise ValueError(f"Two handlers are registered for errands of kind {name!r}.")
        if not 0 < handler.time_limit_s <= LONGEST.total_seconds():
            raise ValueError(f"The time limit of {name!r} must be from 1 to {LONGEST.total_seconds():.0f} s.")
        _entries[name] = KindEntry(handler, handler.time_limit_s)
        return handler

    return register


def kind_entry(name: str) -> KindEntry | None:
    return _entries.get(name)
