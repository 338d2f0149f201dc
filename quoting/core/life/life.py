"""The life of a job in one value: for the list of jobs, the job, Today, the foot, the feed, mails and the API."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from jobs.core.ordering.deviations import OF_CONFIRMATIONS
from quoting.core.life.facts import JobFacts
from quoting.core.life.stations import LABELS, STATIONS, LifeEnd, Passed, Station, life_end, stations_passed, turns_on
from quoting.core.life.steps import Step, steps_of

_OF_THE_DESK = frozenset({"settle", "collect", "ask", "note", "bill", "again", "close", "follow", "answer"})
_OF_MONEY = ("paid ahead", "paid too much")


@dataclass(frozen=True)
class JobLife:
    """Where a job stands on one day.

    passed: the stations up to where it stands. ahead: those to come, with the day by which or on which each is
    planned, None where nobody knows. end: what stopped the chain. steps: what is done next, the first first. beside:
    facts beside it in a few words. words: the station with its count. turns_on: the first later day on which time
    alone may change it.
    """

    station: Station
    passed: tuple[Passed, ...]
    ahead: tuple[tuple[Station, date | None], ...]
    end: LifeEnd | None
    steps: tuple[Step, ...]
    beside: tuple[str, ...]
    words: str
    turns_on: date | None

    @property
    def label(self) -> str:
        return LABELS[self.station]

    @property
    def next(self) -> Step | None:
        return self.steps[0] if self.steps else None

    @property
    def on_site(self) -> JobLife:
        """As the site sees it: nothing of money, of suppliers or of what the client said."""
        end = replace(self.end, why="") if self.end else None
        steps = tuple(step for step in self.steps if step.act not in _OF_THE_DESK)
        return replace(self, end=end, steps=steps, beside=tuple(text for text in self.beside if text not in _OF_MONEY))


def life_of(facts: JobFacts, today: date) -> JobLife:
    """Say where a job stands and what is next.

    Args:
        facts: as stored. today: the firm's day.

    Returns:
        Its life on that day.

    Raises:
        Nothing.

    Source: own rule.

    >>> life = life_of(JobFacts(date(2026, 10, 5), "Larkmoor Dental"), date(2026, 10, 5))
    >>> life.words, life.next.text
    ('Enquiry', 'Measure the first wall')
    """
    passed, end = stations_passed(facts, today), life_end(facts, today)
    station = passed[-1].station
    steps = steps_of(facts, station, end, today)
    ahead = () if end else tuple((word, _planned(word, facts, steps)) for word in STATIONS[len(passed) :])
    beside = tuple(dict.fromkeys(_beside(facts, station, steps, today)))
    return JobLife(station, passed, ahead, end, steps, beside, _words(facts, station), _turns_on(facts, steps, today))


def _turns_on(facts: JobFacts, steps: tuple[Step, ...], today: date) -> date | None:
    """The day after one of them was due it is late, and stands first."""
    missed = [step.by + timedelta(days=1) for step in steps if step.by is not None and step.by >= today]
    return min((day for day in (turns_on(facts, today), *missed) if day is not None), default=None)


def _words(facts: JobFacts, station: Station) -> str:
    opened = facts.revision.opened if facts.revision else 0
    if station == "sent" and opened:
        return f"Sent (opened {'once' if opened == 1 else 'twice' if opened == 2 else f'{opened} times'})"
    if station == "ordered" and facts.wanted:
        return f"Ordered ({facts.ordered} of {facts.wanted})"
    return LABELS[station]


def _planned(station: Station, facts: JobFacts, steps: tuple[Step, ...]) -> date | None:
    if station in ("on_site", "done"):
        return facts.starts_on if station == "on_site" else facts.ends_on
    act = {"signed": "sign", "ordered": "order"}.get(station, "")
    return next((step.by for step in steps if step.act == act), None)


def _beside(facts: JobFacts, station: Station, steps: tuple[Step, ...], today: date) -> Iterator[str]:
    if steps and steps[0].is_late(today):
        yield "late"
    for fact in facts.otherwise:
        if fact.since <= today:
            yield _otherwise(fact.kind, fact.amount)
    yield from (f"change note {number} unsigned" for number in facts.unsigned)
    if facts.dimensions and station not in ("enquiry", "measured", "priced"):
        yield f"{facts.dimensions} dimension{'' if facts.dimensions == 1 else 's'} to confirm"
    if facts.finish and facts.finish.open:
        yield f"{facts.finish.open} on the finish list"
    money = facts.money
    if money is not None and money.received:
        if money.balance < 0:
            yield "paid too much"
        elif not money.balance and station != "paid":
            yield "paid ahead"


def _otherwise(kind: str, amount: str) -> str:
    if kind in OF_CONFIRMATIONS:
        return "confirmed otherwise"
    return {"short": f"{amount} short", "wall_moved": "wall moved since ordered"}.get(kind, "promised too late")
