"""The days an activity really began and ended, as whoever leads it on site said."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from catalog.core.ground.day_words import day_words
from catalog.core.ground.refusal import EntryError


@dataclass(frozen=True)
class ActualDays:
    """When one activity of a job began and ended.

    Args:
        key: of the activity. began_on, began_by: the day, and who said so. ended_on: the last day it took, None while
            it goes on. ended_by: who said so, empty while it goes on.

    Raises:
        EntryError: naming the entry that cannot be.

    Source: own rule.

    >>> ActualDays("framing", date(2027, 1, 5), "Ines Quarrell").has_ended
    False
    """

    key: str
    began_on: date
    began_by: str
    ended_on: date | None = None
    ended_by: str = ""

    def __post_init__(self) -> None:
        for field in ("key", "began_by"):
            if not getattr(self, field).strip():
                raise EntryError(field, "must not be empty")
        if self.ended_on is None:
            return
        if self.ended_on < self.began_on:
            raise EntryError(
                "ended_on", f"{day_words(self.ended_on)} is before {day_words(self.began_on)}, when it began"
            )
        if not self.ended_by.strip():
            raise EntryError("ended_by", "say who says that it ended")

    @property
    def has_ended(self) -> bool:
        return self.ended_on is not None
