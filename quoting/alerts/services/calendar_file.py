"""Events as a calendar (RFC 5545)."""

from collections.abc import Iterable
from datetime import UTC, datetime, time, timedelta

from icalendar import Calendar
from icalendar import Event as Entry

from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.jobs.models import Job
from quoting.alerts.services.feed_events import GivenEvent, as_given, unstored_events

# How often a calendar that follows the feed asks anew, unless whoever follows it sets something else.
ASK_AGAIN = timedelta(hours=1)


def calendar_bytes(work_up: JobWorkUp) -> bytes:
    """The events of a work-up that is not stored. The same figures give the same file."""
    stamp = datetime.combine(work_up.today, time(0), tzinfo=UTC)
    return calendar_of(_name(work_up), (GivenEvent(event, 0, stamp) for event in unstored_events(work_up)))


def job_calendar_bytes(job: Job, work_up: JobWorkUp, now: datetime) -> bytes:
    """The same events that feeds give, with what has changed since they were last given out numbered as it will be."""
    return calendar_of(_name(work_up), as_given(job, work_up, now))


def calendar_of(name: str, events: Iterable[GivenEvent], note: str = "") -> bytes:
    calendar = Calendar()
    calendar.add("prodid", "-//Curvewright//order dates//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", name)
    calendar.add("refresh-interval", ASK_AGAIN, parameters={"VALUE": "DURATION"})
    if note:
        calendar.add("x-wr-caldesc", note)
    for given in events:
        calendar.add_component(_entry(given))
    return calendar.to_ical()


def _name(work_up: JobWorkUp) -> str:
    return " ".join(f"Order dates, {work_up.read.job.title}".split())


def _entry(given: GivenEvent) -> Entry:
    event, entry = given.event, Entry()
    entry.add("uid", event.uid)
    # RFC 5545, 3.8.7.2: without a METHOD the stamp says when the event was last changed, as LAST-MODIFIED does.
    entry.add("dtstamp", given.modified_at)
    entry.add("last-modified", given.modified_at)
    entry.add("sequence", given.sequence)
    entry.add("dtstart", event.first_day)
    if event.last_day != event.first_day:
        entry.add("dtend", event.last_day + timedelta(days=1))
    entry.add("summary", event.summary if given.signed else f"{event.summary} (not signed)")
    if event.note:
        entry.add("description", event.note)
    entry.add("status", "CANCELLED" if given.cancelled else "CONFIRMED" if given.signed else "TENTATIVE")
    entry.add("transp", "TRANSPARENT")
    return entry
