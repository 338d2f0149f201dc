"""A history as people read it: by day, one line for each save, its fields below."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby
from zlib import crc32

from django.utils.timezone import get_current_timezone

from quoting.service.services.change_history import Change, EntryChange

# The rows of one save are written one after another, each with its own moment.
ONE_SAVE = timedelta(seconds=2)
MAX_DAYS, MAX_LINES = 25, 60
MAX_VALUE = 40
MAX_FIELDS = 10


@dataclass(frozen=True)
class Save:
    """What one person stored at once. when: the first moment of it."""

    when: datetime
    who: str
    changes: tuple[Change, ...]

    @property
    def _here(self) -> datetime:
        """By the firm's clock, which each request activates."""
        return self.when.astimezone(get_current_timezone())

    @property
    def day(self) -> date:
        return self._here.date()

    @property
    def at(self) -> str:
        return f"{self._here:%H:%M}"

    @property
    def mark(self) -> str:
        """Of this save alone, and the same on every look."""
        return f"{self.when:%Y%m%d%H%M%S%f}-{crc32(f'{self.who} {self.said}'.encode())}"

    @property
    def is_long(self) -> bool:
        """Too long to be sent with the page: it comes when somebody opens it."""
        return sum(len(change.entries) for change in self.changes) > MAX_FIELDS

    @property
    def said(self) -> str:
        """At most one thing and one field of it; the rest is counted."""
        first = min(self.changes, key=_rank)
        only = first.entries[0] if len(first.entries) == 1 and not first.is_first else None
        text = f"{first.what}, {_field_words(only)}" if only else f"{first.what} {first.did}"
        more = len(self.changes) - 1
        return f"{text}, and {more} more" if more else text


def saves_of(changes: Sequence[Change]) -> Iterator[Save]:
    """changes: newest first, and so are the saves."""
    held: list[Change] = []
    for change in changes:
        if held and not _is_same_save(held[-1], change):
            yield _save(held)
            held = []
        held.append(change)
    if held:
        yield _save(held)


def pages_of(saves: Sequence[Save]) -> list[list[Save]]:
    """Each of so many days or so many lines, whichever comes first."""
    pages: list[list[Save]] = [[]]
    for save in saves:
        days = {page.day for page in pages[-1]} | {save.day}
        if pages[-1] and (len(pages[-1]) == MAX_LINES or len(days) > MAX_DAYS):
            pages.append([])
        pages[-1].append(save)
    return pages


def by_day(saves: Sequence[Save]) -> list[tuple[date, list[Save]]]:
    return [(day, list(result)) for day, result in groupby(saves, key=lambda save: save.day)]


def _is_same_save(later: Change, earlier: Change) -> bool:
    # What befell, such as an answer of the client, is a line by itself.
    if later.is_event or earlier.is_event or later.who != earlier.who:
        return False
    return later.when - earlier.when < ONE_SAVE


def _save(changes: Sequence[Change]) -> Save:
    return Save(changes[-1].when, changes[-1].who, tuple(reversed(changes)))


def _rank(change: Change) -> int:
    """What was changed says more than the rows entered or taken away with it."""
    return 0 if change.entries and not change.is_first else 1


def _field_words(entry: EntryChange) -> str:
    label, before, after = f"{entry.label[:1].lower()}{entry.label[1:]}", _cut(entry.before), _cut(entry.after)
    if not after:
        return f"{label} emptied, was {before}"
    return f"{label} {after} from {before}" if before else f"{label} {after}"


def _cut(value: str) -> str:
    return value if len(value) <= MAX_VALUE else f"{value[: MAX_VALUE - 1].rstrip()}…"
