"""Where jobs stand, read from their rows for whoever shows it: pages, the foot, the API, feeds and mails."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from catalog.core.ground.day_words import day_words, with_day_words
from catalog.core.ground.declared import Choice, Of, View, write
from catalog.core.ground.workdays import WorkCalendar
from catalog.services.book import NoFirmYet, firm_of
from jobs.core.ordering.order_by import days_in_hand, days_in_hand_in_words, is_late
from jobs.jobs.models import Job
from quoting.core.life.facts import WHO_WORDS, JobFacts, Who
from quoting.core.life.life import JobLife, life_of
from quoting.core.life.stations import END_WORDS, STATIONS
from quoting.core.life.steps import Act, Step
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
    return {pk: write(read, LifeShown) for pk, read in lives_of(jobs, today, at_desk=at_desk).items()}


class StationPassed(View):
    station: Annotated[str, Choice(STATIONS)]
    since: Annotated[date | None, Of("on")]
    lacks: Annotated[str | None, "What of it is not done yet.", Of(lambda passed: passed.lack or None)]


class StationAhead(View):
    station: Annotated[str, Choice(STATIONS), Of(lambda ahead: ahead[0])]
    by: Annotated[date | None, Of(lambda ahead: ahead[1])]


class LifeEnded(View):
    """What stopped it."""

    how: Annotated[str, Choice(tuple(END_WORDS)), Of("kind")]
    on: date
    why: Annotated[str, Of(lambda end: with_day_words(end.why))]


class StepShown(View):
    """What is done next. `about`: the wall, material, order, activity or change note concerned."""

    act: Act
    what: Annotated[str, Of("text")]
    who: Who
    person: Annotated[str | None, Of(lambda step: step.person or None)]
    by: date | None
    days_in_hand: Annotated[
        int | None, "Working days left; negative when late.", Of(lambda step, read: read.in_hand(step))
    ]
    why: Annotated[str, "What follows if it is not done.", Of(lambda step: with_day_words(step.why))]
    about: Annotated[str | None, Of(lambda step: step.about or None)]


class LifeShown(View):
    """Where a job stands: the last station whose fact is true. `lacks`: what an earlier one lacks."""

    document_name = "life"
    is_whole = True

    station: Annotated[str, Choice(STATIONS), Of("life.station")]
    state: Annotated[str, "The station in words, such as Ordered (11 of 13).", Of("life.words")]
    passed: Annotated[tuple[StationPassed, ...], Of("life.passed")]
    ahead: Annotated[tuple[StationAhead, ...], Of("life.ahead")]
    ended: Annotated[LifeEnded | None, Of("life.end")]
    steps: Annotated[tuple[StepShown, ...], "The first one is next.", Of("life.steps")]
    beside: Annotated[tuple[str, ...], "Facts beside it, such as late or 2 pieces short.", Of("life.beside")]


def who_words(step: Step) -> str:
    """The person where one is known, else the part they play."""
    return step.person or WHO_WORDS[step.who]
