"""Where a job stands: the last station whose fact is true, since when each holds, and what ends the chain."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal, get_args

from catalog.core.ground.day_words import day_words
from quoting.core.life.facts import ItemFacts, JobFacts

Station = Literal["enquiry", "measured", "priced", "sent", "signed", "ordered", "on_site", "done", "paid"]
STATIONS: tuple[Station, ...] = get_args(Station)
LABELS: dict[Station, str] = {
    "enquiry": "Enquiry",
    "measured": "Measured",
    "priced": "Priced",
    "sent": "Sent",
    "signed": "Signed",
    "ordered": "Ordered",
    "on_site": "On site",
    "done": "Done",
    "paid": "Paid",
}
EndKind = Literal["lost", "closed", "taken_back", "declined", "expired"]
END_WORDS: dict[EndKind, str] = {
    "lost": "Lost",
    "closed": "Closed",
    "taken_back": "Cancelled",
    "declined": "Declined",
    "expired": "Expired",
}
DUE_WITHIN = timedelta(days=15)
"""An item to be ordered within so many days keeps the job from counting as ordered."""


@dataclass(frozen=True)
class Passed:
    """A station the job has come to or past. on: since when it holds; None where it does not, and `lack` says why."""

    station: Station
    on: date | None
    lack: str = ""


@dataclass(frozen=True)
class LifeEnd:
    """What stopped the chain. why: in their words, empty where nobody gave any."""

    kind: EndKind
    on: date
    why: str = ""

    @property
    def label(self) -> str:
        return END_WORDS[self.kind]


def stations_passed(facts: JobFacts, today: date) -> tuple[Passed, ...]:
    """The stations up to the last one whose fact is true, each with its day or with what it lacks.

    Args:
        facts: of the job. today: the firm's day.

    Returns:
        One at least: a job that is open is an enquiry.

    Raises:
        Nothing.

    Source: own rule.

    >>> [one.station for one in stations_passed(JobFacts(date(2026, 10, 5), "Larkmoor"), date(2026, 10, 5))]
    ['enquiry']
    """
    days = {station: _since(station, facts, today) for station in STATIONS}
    last = max(place for place, word in enumerate(STATIONS) if days[word] is not None)
    # A job entered late was an enquiry, and measured, when it was priced.
    later = date.max
    for word in reversed(STATIONS[: last + 1]):
        later = min(days[word] or date.max, later)
        days[word] = later if days[word] else None
    return tuple(
        Passed(station, days[station], "" if days[station] else _lack(station, facts, today))
        for station in STATIONS[: last + 1]
    )


def _since(station: Station, facts: JobFacts, today: date) -> date | None:
    revision = facts.revision
    match station:
        case "enquiry":
            return facts.opened_on
        case "measured":
            return facts.measured_on
        case "priced":
            return revision.quoted_on if revision else facts.priced_on
        case "sent":
            # What was signed on paper was handed over.
            return (revision.sent_on or facts.signed_on) if revision else None
        case "signed":
            return facts.signed_on
        case "ordered":
            return None if first_due(facts, today) else facts.placed_on
        case "on_site":
            return facts.begun_on
        case "done":
            return facts.done_on
        case "paid":
            money = facts.money
            paid = facts.signed_on and facts.done_on and money and not money.balance
            return max(facts.done_on or date.min, money.last_on or date.min) if paid and money else None


def first_due(facts: JobFacts, today: date) -> ItemFacts | None:
    """The first item that must be ordered within `DUE_WITHIN` and is not."""
    due = [fact for fact in facts.to_order if fact.order_by is not None and fact.order_by <= today + DUE_WITHIN]
    return min(due, key=lambda fact: fact.order_by or today, default=None)


def _lack(station: Station, facts: JobFacts, today: date) -> str:
    due = first_due(facts, today)
    match station:
        case "measured":
            return f"{', '.join(facts.unmeasured)} not measured" if facts.unmeasured else "no wall measured"
        case "priced":
            return f"{facts.before_sending} open points" if facts.before_sending else "not priced"
        case "sent":
            return "never sent"
        case "signed":
            return "not signed"
        case "ordered" if due is not None and due.order_by is not None:
            return f"{due.name} not ordered, due {day_words(due.order_by)}"
        case "ordered":
            return "nothing ordered"
        case "on_site":
            return "nothing begun"
        case _ if facts.finish and facts.finish.open:
            return f"{facts.finish.open} on the finish list"
        case _:
            return "not all built"


def life_end(facts: JobFacts, today: date) -> LifeEnd | None:
    """What stopped the chain, None while it goes on. Raises nothing. Source: own rule.

    facts: of the job. today: the firm's day. A signed job is ended by being closed alone.

    >>> life_end(JobFacts(date(2026, 10, 5), "Larkmoor", closed_on=date(2026, 10, 6)), date(2026, 10, 7)).label
    'Closed'
    """
    revision, outcome = facts.revision, facts.outcome
    if facts.signed_on is None and outcome is not None:
        message = ": ".join(text for text in (outcome.what, outcome.words) if text)
        return LifeEnd("lost", outcome.on, message)
    if facts.closed_on is not None:
        return LifeEnd("closed", facts.closed_on)
    if facts.signed_on is not None or revision is None:
        return None
    if revision.standing in ("taken_back", "declined"):
        return LifeEnd(revision.standing, revision.since, revision.why)
    if revision.valid_until < today:
        return LifeEnd("expired", revision.valid_until, f"Could be accepted until {revision.valid_until}.")
    return None


def turns_on(facts: JobFacts, today: date) -> date | None:
    """The first later day on which time alone may change the station, the end or what is next; None where it cannot.

    facts: of the job. today: the firm's day. Raises nothing. Source: own rule.

    >>> due = ItemFacts("BASE", "Base", True, order_by=date(2026, 12, 10))
    >>> turns_on(JobFacts(date(2026, 10, 5), "Larkmoor", to_order=(due,)), date(2026, 10, 5))
    datetime.date(2026, 11, 25)
    """
    days = [fact.order_by - DUE_WITHIN for fact in facts.to_order if fact.order_by is not None]
    days += [fact.since for fact in facts.otherwise]
    if facts.revision is not None:
        days.append(facts.revision.valid_until + timedelta(days=1))
    return min((day for day in days if day > today), default=None)
