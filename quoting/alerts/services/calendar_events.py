"""What a calendar holds of a job: one event for each day of an item and each activity, with ids that stay."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time
from hashlib import sha256

from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.needs import DatedNeed
from jobs.core.schedule.activities import ActivityPlan
from jobs.needs.models import StoredNeed
from quoting.alerts.models import EventKind
from quoting.platform.formatting import day_words

NEED_KINDS = (EventKind.DECIDE, EventKind.ORDER, EventKind.NEED)
LONGEST_SUMMARY = 500


@dataclass(frozen=True)
class Event:
    """first_day to last_day, both included. No supplier and no money: anybody of the staff may see it."""

    uid: str
    kind: EventKind
    about: str
    summary: str
    note: str
    first_day: date
    last_day: date


@dataclass(frozen=True)
class GivenEvent:
    """An event as calendars are given it. sequence rises with each change, modified_at is when it last did."""

    event: Event
    sequence: int
    modified_at: datetime
    cancelled: bool = False
    signed: bool = True


@dataclass(frozen=True)
class ItemDays:
    """The days of one item; None where something is missing."""

    material: str
    name: str
    to_decide: bool
    decide_by: date | None
    order_by: date | None
    cut_off: time | None
    need_by: date | None


def days_of_need(need: DatedNeed) -> ItemDays:
    dates = need.dates
    days = (dates.decide_by, dates.order_by, dates.cut_off) if dates else (None, None, None)
    return ItemDays(need.material, need.name, need.sign_off_workdays > 0, *days, need.need_by)


def days_of_row(row: StoredNeed) -> ItemDays:
    to_decide = row.sign_off_workdays > 0
    return ItemDays(row.material, row.name, to_decide, row.decide_by, row.order_by, row.cut_off, row.need_by)


def events_of(done: JobWorkUp) -> list[Event]:
    key, title = done.read.job.key, done.read.job.title
    return [*events_of_items(key, title, map(days_of_need, done.needs)), *events_of_plan(key, title, done.plan)]


def events_of_items(key: str, title: str, items: Iterable[ItemDays]) -> list[Event]:
    """key, title: of the job."""
    return [event for item in items for event in _of_item(key, title, item)]


def events_of_plan(key: str, title: str, plan: ActivityPlan) -> list[Event]:
    found = []
    for one in plan.activities:
        if one.times is not None:
            days = (one.times.early_start, one.times.early_finish)
            found.append(_event(key, EventKind.ACTIVITY, one.key, f"{one.name}, {title}", "", *days))
    return found


def _of_item(key: str, title: str, item: ItemDays) -> Iterable[Event]:
    name, by = f"{item.name}, {title}", f"On site by {day_words(item.need_by)}." if item.need_by else ""
    if item.decide_by and item.to_decide:
        yield _event(key, EventKind.DECIDE, item.material, f"Decide: {name}", by, item.decide_by)
    if item.order_by:
        hour = f" It counts for that day until {item.cut_off:%H:%M}." if item.cut_off else ""
        yield _event(key, EventKind.ORDER, item.material, f"Order: {name}", by + hour, item.order_by)
    if item.need_by:
        yield _event(key, EventKind.NEED, item.material, f"On site: {name}", "", item.need_by)


def _event(
    key: str, kind: EventKind, about: str, summary: str, note: str, first: date, last: date | None = None
) -> Event:
    identity = sha256(f"{key}|{about}|{kind.value}".encode()).hexdigest()[:32]
    told = " ".join(summary.split())[:LONGEST_SUMMARY]
    return Event(f"{identity}@curvewright.invalid", kind, about, told, note.strip(), first, last or first)
