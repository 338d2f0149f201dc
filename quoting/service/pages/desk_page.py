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
    day = desk_day(person.role, read, moment)
    since, news = news_for(person, moment, read.desk.calendar)
    tape = _tape(day.next, read)
    first = next((todo for todo in day.next.near if todo.in_hand is not None), None)
    answers = [fresh for fresh in news if fresh.is_answer]
    others = [fresh for fresh in news if not fresh.is_answer]
    return {
        "day": day,
        "buys": person.role in access.BUYERS,
        "near": [_row(todo, filled=todo is first) for todo in day.next.near],
        "soon": [_row(todo) for todo in day.next.soon],
        "tape": tape and {width: _svg(tape, width) for width in ("desk", "phone")},
        "waiting": [(waiting, _unbroken(waiting.says), _url(waiting.place)) for waiting in day.waiting[:MAX_WAITING]],
        "more_waiting": max(0, len(day.waiting) - MAX_WAITING),
        "answers": [(answer, _url(answer.place)) for answer in answers[:MAX_NEWS]],
        "news": [(other, _url(other.place)) for other in others[:MAX_NEWS]],
        "more_news": max(0, len(answers) - MAX_NEWS) + max(0, len(others) - MAX_NEWS),
        "since": _since_words(since, moment),
        "awaited": read.awaited,
        "open_jobs": open_jobs(),
        "own": own_activities(person, read),
        "mark": change_mark(moment.date()),
    }


def _row(todo: Todo, *, filled: bool = False) -> Row:
    where = jobs_words(todo.jobs)
    texts = [f"{where}." if where else "", with_day_words(todo.why)]
    return Row(todo, _url(todo.place), _unbroken(" ".join(part for part in texts if part)), filled)


def _unbroken(sentence: str) -> str:
    """Numbers of orders and jobs are not broken at their hyphen."""
    return re.sub(r"\b([A-Z])-(\d)", "\\1-\u2060\\2", sentence)


def _url(place: tuple[str, ...]) -> str:
    name, *rest = place
    query = [text for text in rest if text.startswith("?")]
    return reverse(name, args=[text for text in rest if text not in query]) + "".join(query)


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


def _tape(result: DayList, read: OpenJobItems) -> Tape | None:
    today, calendar = read.desk.today, read.desk.calendar
    days = tuple(islice(workdays_from(calendar, today), DAYS["desk"] + 1))
    marks = [
        TapeMark(max(todo.day, days[0]), _short(todo), _weight(todo))
        for todo in result.dated
        if todo.day is not None and not todo.is_late and todo.day <= days[-1]
    ]
    return Tape(days, _one_a_day(marks), tuple(_closures(read)), result.late)


def _one_a_day(marks: Iterable[TapeMark]) -> tuple[TapeMark, ...]:
    """Of several things of one day the weightiest is named, with how many more there are."""
    days: dict[Any, list[TapeMark]] = {}
    for mark in marks:
        days.setdefault(mark.day, []).append(mark)
    result = []
    for day, here in days.items():
        first, more = max(here, key=lambda mark: mark.weight), len(here) - 1
        result.append(TapeMark(day, f"{first.words}{f', {more} more' if more else ''}", first.weight, first.words))
    return tuple(result)


def _short(todo: Todo) -> str:
    if todo.names and len(todo.names) > 1:
        return f"order {listed([short_name(name) for name in todo.names])}"
    return todo.tape or f"{todo.text[:1].lower()}{todo.text[1:]}"


def _weight(todo: Todo) -> float:
    return 100.0 - (todo.in_hand or 0)


def _closures(read: OpenJobItems) -> Iterable[Closure]:
    """Who is shut in these weeks; those shut on the same days together."""
    shut: dict[tuple[Any, Any], list[str]] = {}
    for supplier in read.desk.suppliers.values():
        for closure in supplier.closures:
            if closure.last_day >= read.desk.today:
                shut.setdefault((closure.first_day, closure.last_day), []).append(supplier.name.split()[0])
    for first, last in sorted(shut)[:MAX_CLOSURES]:
        names = sorted(shut[first, last])
        days = f"{_short_day(first)} to {_short_day(last)}" if first != last else _short_day(first)
        yield Closure(first, last, f"{listed(names)} shut {days}")


def _short_day(day: Any) -> str:
    """21 Dec."""
    return " ".join(kept_words(day).split()[1:3])
