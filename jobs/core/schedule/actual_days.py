"""The days an activity really began and ended, as whoever leads it on site said."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import Text
from catalog.core.ground.refusal import EntryError


@dataclass(frozen=True)
class ActualDays:
    """When an activity really began and ended.

    Raises:
        EntryError: naming the entry that cannot be.

    Source: own rule.

    >>> ActualDays("framing", date(2027, 1, 5), "Ines Quarrell").has_ended
    False
    """

    key: Annotated[str, Text(60), "Key of the activity, such as framing or boards."]
    began_on: Annotated[date, "The day it began."]
    began_by: Annotated[str, Text(200), "Who said so."]
    ended_on: Annotated[date | None, "The last day it took; null while it goes on."] = None
    ended_by: Annotated[str, Text(200), "Who said that it ended; empty while it goes on."] = ""

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
