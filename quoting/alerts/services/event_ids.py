"""Ids of calendar events: an event keeps its id while anything of it stays, so that what moves is never doubled."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from itertools import count

from quoting.alerts.models import EventKind, FeedEvent

MAX_SUMMARY = 500


@dataclass(frozen=True)
class EventDraft:
    """An event before it has its id. members: what it is of, in order; each stands in one event of its kind."""

    kind: EventKind
    members: tuple[str, ...]
    summary: str
    note: str
    first_day: date
    last_day: date


@dataclass(frozen=True)
class Event:
    """first_day to last_day, both included. No supplier and no money: anybody of the staff may see it."""

    uid: str
    kind: EventKind
    about: str
    members: tuple[str, ...]
    summary: str
    note: str
    first_day: date
    last_day: date


def with_ids(key: str, drafts: Sequence[EventDraft], rows: Iterable[FeedEvent]) -> list[Event]:
    """key: of the job. rows: the events of it that calendars have been given, those cancelled included."""
    before = [row for row in rows if not row.cancelled]
    given: dict[int, tuple[str, str]] = {}
    taken: set[str] = set()
    for _, place, row in sorted(_alike(drafts, before), key=lambda entry: entry[0]):
        if place not in given and row.uid not in taken:
            given[place] = row.uid, row.about
            taken.add(row.uid)
    events = []
    for place, draft in enumerate(drafts):
        uid, about = given.get(place) or next(pair for pair in _fresh(key, draft) if pair[0] not in taken)
        taken.add(uid)
        about = about if about in draft.members else draft.members[0]
        summary = " ".join(draft.summary.split())[:MAX_SUMMARY]
        days = draft.first_day, draft.last_day
        events.append(Event(uid, draft.kind, about, draft.members, summary, draft.note.strip(), *days))
    return events


def _alike(
    drafts: Sequence[EventDraft], rows: Iterable[FeedEvent]
) -> Iterator[tuple[tuple[bool, int, bool, int, int], int, FeedEvent]]:
    """Which draft may go on with which row, those that have most in common with the row ranked first."""
    of_kind: dict[str, list[FeedEvent]] = {}
    for row in rows:
        of_kind.setdefault(row.kind, []).append(row)
    for place, draft in enumerate(drafts):
        members = set(draft.members)
        for row in of_kind.get(draft.kind, ()):
            shared = members.intersection(row.members or [row.about])
            if shared:
                moved = row.first_day != draft.first_day
                yield (row.about not in members, -len(shared), moved, place, row.pk), place, row


def _fresh(key: str, draft: EventDraft) -> Iterator[tuple[str, str]]:
    """Ids to begin with: an item that comes back has the one it had."""
    for again in count():
        for about in draft.members:
            text = f"{key}|{about}|{draft.kind.value}{f'|{again}' if again else ''}"
            yield f"{sha256(text.encode()).hexdigest()[:32]}@curvewright.invalid", about
