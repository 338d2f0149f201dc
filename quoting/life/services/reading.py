"""Where jobs stand, read from their rows for whoever shows it: pages, the foot, the API, feeds and mails."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from catalog.core.ground.day_words import day_words, with_day_words
from catalog.core.ground.workdays import WorkCalendar
from catalog.services.book import NoFirmYet, firm_of
from jobs.core.ordering.order_by import days_in_hand, days_in_hand_in_words, is_late
from jobs.jobs.models import Job
from quoting.core.life.facts import WHO_WORDS, JobFacts
from quoting.core.life.life import JobLife, life_of
from quoting.core.life.stations import LABELS
from quoting.core.life.steps import Step
from quoting.life.models import KeptLife
from quoting.life.services.gathering import facts_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm

Document = dict[str, Any]


@dataclass(frozen=True)
class ReadLife:
    """A job's life on the day it is read. facts: it follows from. calendar: the firm's, for days in hand."""

    job: Job
    facts: JobFacts
    life: JobLife
    today: date
    calendar: WorkCalendar

    def in_hand(self, step: Step) -> int | None:
        """Working days of the firm left, negative when late; None where no day is known."""
        return None if step.by is None else days_in_hand(self.today, step.by, self.calendar)

    @property
    def state(self) -> str:
        """For the foot and for lists: the station, and what stopped it."""
        end = self.life.end
        return f"{end.label}, {day_words(end.on)}" if end else self.life.words

    @property
    def next(self) -> str:
        """For the foot: what is next and by when; empty where nothing is."""
        step = self.life.next
        if step is None:
            return ""
        return f"{step.text}, by {day_words(step.by)}" if step.by else step.text

    @property
    def stands(self) -> str:
        """Where it stands and since when, as a sentence."""
        since = self.life.passed[-1].on
        return f"{self.state}{f' since {day_words(since)}' if since and not self.life.end else ''}."

    @property
    def doer(self) -> str:
        """Who does what is next, as a sentence; empty where that says it itself."""
        step = self.life.next
        if step is None or step.who == "client":
            return ""
        who = who_words(step)
        return f"{who[:1].upper()}{who[1:]}."

    @property
    def sentences(self) -> str:
        """For mails: where it stands, what is next, by when, and who does it."""
        step = self.life.next
        in_hand = self.in_hand(step) if step else None
        late = f", {days_in_hand_in_words(in_hand)}" if in_hand is not None and is_late(in_hand) else ""
        text = (self.stands, f"{self.next}{late}." if step else "", self.doer)
        return " ".join(entry for entry in text if entry)


def lives_of(jobs: Iterable[Job], today: date, *, at_desk: bool = True) -> dict[int, ReadLife]:
    """By id of the job, in one query; those whose row is not made yet are gathered. at_desk: whether whoever reads sees
    money and suppliers."""
    there = {job.pk: job for job in jobs}
    rows = {row.pk: row.to_core() for row in KeptLife.objects.filter(pk__in=there) if row.facts}
    missing = {pk: None for pk in there if pk not in rows}
    rows |= facts_of(missing, today) if missing else {}
    lives, calendar = {pk: life_of(facts, today) for pk, facts in rows.items()}, _calendar()
    return {
        pk: ReadLife(there[pk], rows[pk], life if at_desk else life.on_site, today, calendar)
        for pk, life in lives.items()
    }


def _calendar() -> WorkCalendar:
    try:
        return firm_of().calendar
    except NoFirmYet:
        return WorkCalendar("the firm")


def life_of_job(job: Job, today: date, *, at_desk: bool = True) -> ReadLife:
    return lives_of([job], today, at_desk=at_desk)[job.pk]


def lives_as_read(jobs: Collection[Job], at_desk: bool) -> dict[int, Document]:
    today = day_at_the_firm(clock.now())
    return {pk: life_document(read) for pk, read in lives_of(jobs, today, at_desk=at_desk).items()}


def life_document(read: ReadLife) -> Document:
    """As JSON values, for the API."""
    life, end = read.life, read.life.end
    return {
        "station": life.station,
        "state": life.words,
        "passed": [
            {"station": result.station, "since": _day(result.on), "lacks": result.lack or None}
            for result in life.passed
        ],
        "ahead": [{"station": station, "by": _day(on)} for station, on in life.ahead],
        "ended": {"how": end.kind, "on": _day(end.on), "why": with_day_words(end.why)} if end else None,
        "steps": [step_document(step, read.in_hand(step)) for step in life.steps],
        "beside": list(life.beside),
    }


def step_document(step: Step, in_hand: int | None) -> Document:
    return {
        "act": step.act,
        "what": step.text,
        "who": step.who,
        "person": step.person or None,
        "by": _day(step.by),
        "days_in_hand": in_hand,
        "why": with_day_words(step.why),
        "about": step.about or None,
    }


def who_words(step: Step) -> str:
    """The person where one is known, else the part they play."""
    return step.person or WHO_WORDS[step.who]


def station_label(station: str) -> str:
    return LABELS[station]  # type: ignore[index]


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None
