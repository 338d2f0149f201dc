"""What several parts of one page read alike is read once for that page: `ReadOnceMiddleware` opens the page's memory.

Only a page that is looked at has one. Outside it, and in whatever changes rows, everything is read anew.
"""

from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any, TypeVar

from django.db.models import QuerySet

MAX_LISTED = 500
T = TypeVar("T")
_read: ContextVar[dict[Hashable, Any] | None] = ContextVar("what this page has read", default=None)


def read_once(what: Hashable, read: Callable[[], T]) -> T:
    """what: names it within a page, with all it depends on. What it raises is not remembered."""
    known = _read.get()
    if known is None:
        return read()
    if what not in known:
        known[what] = read()
    entry: T = known[what]
    return entry


def is_of_a_page() -> bool:
    """Whether what is read now is read for a page."""
    return _read.get() is not None


def few_of(rows: QuerySet[Any, T], what: Hashable) -> list[T] | QuerySet[Any, T]:
    """The values themselves, read once a page, or for many the query: a short list costs other queries next to nothing.

    what: names them within a page.
    """
    some = read_once(what, lambda: list(rows[: MAX_LISTED + 1]))
    return some if len(some) <= MAX_LISTED else rows


@contextmanager
def one_page() -> Iterator[None]:
    token = _read.set({})
    try:
        yield
    finally:
        _read.reset(token)


@contextmanager
def read_anew() -> Iterator[None]:
    """For what a page works up and stores: within it nothing is remembered, and after it nothing from before."""
    known = _read.get()
    token = _read.set(None)
    try:
        yield
    finally:
        _read.reset(token)
        if known is not None:
            known.clear()
