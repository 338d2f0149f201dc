"""Who brought a statement in with a job file: its author is whom the file names, and nobody here stands for it yet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from catalog.core.ground.day_words import day_words


@dataclass(frozen=True)
class BroughtIn:
    """How a statement of a job file came here.

    by, on: who brought it in, and the day. confirmed_by, confirmed_on: who here has confirmed it since; "" and None
    while nobody has, and nothing is released on account of it.

    >>> BroughtIn("B. Marsh", date(2026, 11, 30)).is_open
    True
    """

    by: str
    on: date
    confirmed_by: str = ""
    confirmed_on: date | None = None

    @property
    def is_open(self) -> bool:
        return self.confirmed_on is None


def is_open(brought: BroughtIn | None) -> bool:
    """Whether it came with a file and nobody here has confirmed it.

    >>> is_open(None)
    False
    """
    return brought is not None and brought.is_open


def words_of(brought: BroughtIn | None) -> str:
    """What stands after an author and a day.

    >>> words_of(BroughtIn("B. Marsh", date(2026, 11, 30)))
    ', as the file says; brought in by B. Marsh on Mon 30 Nov 2026'
    """
    if brought is None:
        return ""
    message = f", as the file says; brought in by {brought.by} on {day_words(brought.on)}"
    if brought.confirmed_on is None:
        return message
    return f"{message}, confirmed by {brought.confirmed_by} on {day_words(brought.confirmed_on)}"
