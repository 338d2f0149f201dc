"""The order dates as a calendar (RFC 5545), with ids that stay the same when a date moves."""

from datetime import UTC, date, datetime, time
from hashlib import sha256

from icalendar import Calendar, Event

from jobs.core.needs import DatedNeed
from jobs.core.order_by import days_in_hand_in_words
from quoting.core.work_up import WorkUp
from quoting.services.wording import day_words


def calendar_bytes(done: WorkUp) -> bytes:
    calendar = Calendar()
    calendar.add("prodid", "-//Curvewright//order dates//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", f"Order dates, {done.read.job.title}")
    # One stamp for the day the dates were worked out, so that the same figures give the same file.
    stamp = datetime.combine(done.today, time(0), tzinfo=UTC)
    for need in done.needs:
        for event in _events(done, need, stamp):
            calendar.add_component(event)
    return calendar.to_ical()


def _events(done: WorkUp, need: DatedNeed, stamp: datetime) -> list[Event]:
    if need.dates is None:
        return []
    dates, job = need.dates, done.read.job
    # The file is read on other days than it is made, and the days in hand are those to the order.
    hand = (
        f"To order: {days_in_hand_in_words(need.in_hand)} on {day_words(done.today)}."
        if need.in_hand is not None
        else ""
    )
    told = (
        ("decide", "Decide", dates.decide_by),
        ("order", "Order", dates.order_by),
        ("need", "On site", dates.need_by),
    )
    return [
        _event(f"{job.key}|{need.material}|{kind}", f"{verb}: {need.name}, {job.title}", day, hand, stamp)
        for kind, verb, day in told
    ]


def _event(identity: str, summary: str, day: date, note: str, stamp: datetime) -> Event:
    event = Event()
    event.add("uid", f"{sha256(identity.encode()).hexdigest()[:32]}@curvewright.invalid")
    event.add("dtstamp", stamp)
    event.add("dtstart", day)
    event.add("summary", summary)
    if note:
        event.add("description", note)
    event.add("transp", "TRANSPARENT")
    return event
