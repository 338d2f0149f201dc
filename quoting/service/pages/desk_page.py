"""Today at a desk, as its template shows it."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from itertools import islice
from typing import Any

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from catalog.core.ground.day_words import day_words as kept_words
from catalog.core.ground.workdays import workdays_from
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.drawings.charts.on_screen import Closure
from jobs.drawings.day_tape import DAYS, Tape, TapeMark, day_tape_svg
from quoting.core.life.day_list import DayList, Todo, jobs_words
from quoting.core.life.order_words import listed, short_name
from quoting.platform.people import access
from quoting.platform.people.models import Person
from quoting.platform.screen_days import day_words, with_day_words
from quoting.service.services.change_mark import change_mark
from quoting.service.services.desk_day import desk_day
from quoting.service.services.live_facts import open_jobs
from quoting.service.services.news import news_for
from quoting.service.services.own_day import own_activities

MAX_WAITING, MAX_NEWS = 4, 3
MAX_CLOSURES = 2


@dataclass(frozen=True)
class Row:
    todo: Todo
    url: str
    why: str
    filled: bool = False


def desk_context(person: Person, read: OpenJobItems, moment: datetime) -> dict[str, Any]:
    found = desk_day(person.role, read, moment)
    since, told = news_for(person, moment, read.desk.calendar)
    tape = _tape(found.next, read)
    first = next((one for one in found.next.near if one.in_hand is not None), None)
    answers = [one for one in told if one.is_answer]
    others = [one for one in told if not one.is_answer]
    return {
        "day": found,
        "buys": person.role in access.BUYERS,
        "near": [_row(one, filled=one is first) for one in found.next.near],
        "soon": [_row(one) for one in found.next.soon],
        "tape": tape and {width: _svg(tape, width) for width in ("desk", "phone")},
        "waiting": [(one, _unbroken(one.says), _url(one.place)) for one in found.waiting[:MAX_WAITING]],
        "more_waiting": max(0, len(found.waiting) - MAX_WAITING),
        "answers": [(one, _url(one.place)) for one in answers[:MAX_NEWS]],
        "news": [(one, _url(one.place)) for one in others[:MAX_NEWS]],
        "more_news": max(0, len(answers) - MAX_NEWS) + max(0, len(others) - MAX_NEWS),
        "since": _since_words(since, moment),
        "awaited": read.awaited,
        "open_jobs": open_jobs(),
        "own": own_activities(person, read),
        "mark": change_mark(moment.date()),
    }


def _row(one: Todo, *, filled: bool = False) -> Row:
    where = jobs_words(one.jobs)
    said = [f"{where}." if where else "", with_day_words(one.why)]
    return Row(one, _url(one.place), _unbroken(" ".join(part for part in said if part)), filled)


def _unbroken(sentence: str) -> str:
    """Numbers of orders and jobs are not broken at their hyphen."""
    return re.sub(r"\b([A-Z])-(\d)", "\\1-\u2060\\2", sentence)


def _url(place: tuple[str, ...]) -> str:
    name, *rest = place
    query = [one for one in rest if one.startswith("?")]
    return reverse(name, args=[one for one in rest if one not in query]) + "".join(query)


def _since_words(since: datetime, moment: datetime) -> str:
    if since.date() == moment.date():
        return f"{since:%H:%M}"
    days = (moment.date() - since.date()).days
    name = f"{since:%A}" if days < 7 else day_words(since.date())
    if since.hour == since.minute == 0:
        return name
    return f"{name} {since:%H:%M}"


def _svg(tape: Tape, width: Any) -> SafeString:
    return mark_safe(day_tape_svg(tape, width))


def _tape(found: DayList, read: OpenJobItems) -> Tape | None:
    today, calendar = read.desk.today, read.desk.calendar
    days = tuple(islice(workdays_from(calendar, today), DAYS["desk"] + 1))
    marks = [
        TapeMark(max(one.day, days[0]), _short(one), _weight(one))
        for one in found.dated
        if one.day is not None and not one.is_late and one.day <= days[-1]
    ]
    return Tape(days, _one_a_day(marks), tuple(_closures(read)), found.late)


def _one_a_day(marks: Iterable[TapeMark]) -> tuple[TapeMark, ...]:
    """Of several things of one day the weightiest is named, with how many more there are."""
    days: dict[Any, list[TapeMark]] = {}
    for mark in marks:
        days.setdefault(mark.day, []).append(mark)
    found = []
    for day, here in days.items():
        first, more = max(here, key=lambda mark: mark.weight), len(here) - 1
        found.append(TapeMark(day, f"{first.words}{f', {more} more' if more else ''}", first.weight, first.words))
    return tuple(found)


def _short(one: Todo) -> str:
    if one.names and len(one.names) > 1:
        return f"order {listed([short_name(name) for name in one.names])}"
    return one.tape or f"{one.text[:1].lower()}{one.text[1:]}"


def _weight(one: Todo) -> float:
    return 100.0 - (one.in_hand or 0)


def _closures(read: OpenJobItems) -> Iterable[Closure]:
    """Who is shut in these weeks; those shut on the same days together."""
    shut: dict[tuple[Any, Any], list[str]] = {}
    for supplier in read.desk.suppliers.values():
        for one in supplier.closures:
            if one.last_day >= read.desk.today:
                shut.setdefault((one.first_day, one.last_day), []).append(supplier.name.split()[0])
    for first, last in sorted(shut)[:MAX_CLOSURES]:
        names = sorted(shut[first, last])
        days = f"{_short_day(first)} to {_short_day(last)}" if first != last else _short_day(first)
        yield Closure(first, last, f"{listed(names)} shut {days}")


def _short_day(day: Any) -> str:
    """21 Dec."""
    return " ".join(kept_words(day).split()[1:3])
