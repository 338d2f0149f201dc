"""Hours of one day, entered in half a minute: filled in as the day before, changed where it differs, saved once."""

import uuid
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from catalog.core.ground.day_words import month_words
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import KeyUsedBefore
from catalog.pages.firm_first import firm_first
from jobs.core.costs.hours import hours_words
from jobs.hours.models import TimeEntry
from jobs.hours.pages.hours_form import FRIDAY, HoursForm, StepOfWeek
from jobs.hours.pages.line_form import Offered
from jobs.hours.services.choice_of_work import JobOffered, jobs_offered
from jobs.hours.services.day_limits import AskFirst
from jobs.hours.services.entered_days import Group, crew_of, day_before, groups_of, standing_entries, week_of
from jobs.hours.services.entering import Entered, enter_hours
from jobs.hours.services.saying_left import say_left
from jobs.hours.services.workers import workers_for, workers_on
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.kept_form import answered, key_sent
from quoting.platform.people.access import is_allowed, role_of
from quoting.platform.screen_days import day_words

ANSWERS = ("is_long_day", "adds")
SENT_BEFORE = "This form has saved other hours before. Save again to enter these too."


@dataclass(frozen=True)
class Before:
    """The day it is filled in from, and what of it still lacks hours on the day asked for."""

    day: date | None
    groups: list[Group]


@firm_first
def hours(request: HttpRequest) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    day = _day_asked(request, today)
    page = _page_of(request, day, today)
    return _posted(request, page) if request.method == "POST" else _shown(request, page)


@dataclass
class HoursPage:
    day: date
    today: date
    crew: list[Any]
    before: Before
    offered: Offered
    form: HoursForm


def _page_of(request: HttpRequest, day: date, today: date) -> HoursPage:
    person: Any = request.user
    among = workers_for(person).select_related("person")
    crew = crew_of(person, day, among)
    there = {entry.pk for entry in among.filter(pk__in=workers_on(day).values("pk"))}
    before = _before(person, day, there)
    jobs = jobs_offered(person, day, [*_jobs_sent(request), *(group.job for group in before.groups if group.job)])
    named = {pk for group in before.groups for pk in group.workers} | {worker.pk for worker in crew}
    # Of what is sent the service says what is wrong with a day, in its own words.
    rows = [entry for entry in among if entry.pk in there or request.method == "POST"]
    near = [row for row in rows if row.pk in named] or rows
    offered = Offered(jobs, near, [row for row in rows if row not in near])
    data = request.POST if request.method == "POST" else None
    week = _week(jobs, day) if _asks_left(request, day) else []
    form = HoursForm(data, key_sent(request) or uuid.uuid4().hex, offered, before.groups, day, week)
    return HoursPage(day, today, crew, before, offered, form)


def _before(person: Any, day: date, there: set[int]) -> Before:
    result = day_before(person, day)
    outcome = set(standing_entries().filter(day=day).values_list("worker", flat=True))
    return Before(result, groups_of(person, result, there - outcome) if result else [])


def _jobs_sent(request: HttpRequest) -> list[int]:
    """Of the address, and of what is sent: a job that is chosen stays among those offered."""
    typed = [
        request.GET.get("job", ""),
        *(value.partition("|")[0] for name, value in request.POST.items() if name.endswith("-where")),
    ]
    return [int(entry) for entry in typed if entry.isascii() and entry.isdigit() and len(entry) < 12]


def _week(jobs: list[JobOffered], day: date) -> list[StepOfWeek]:
    """Steps worked on this week that nobody said to be done."""
    monday = date.fromordinal(day.toordinal() - day.weekday())
    rows = standing_entries().filter(day__gte=monday, day__lte=day).exclude(step="")
    worked = set(rows.values_list("job", "step"))
    return [
        StepOfWeek(job.job, step)
        for job in jobs
        for step in job.steps
        if (job.job.pk, step.hours.step) in worked and not (step.hours.left and step.hours.left.is_done)
    ]


def _asks_left(request: HttpRequest, day: date) -> bool:
    return day.weekday() == FRIDAY and is_allowed(role_of(request.user), "hours_left_said", "POST")


def _day_asked(request: HttpRequest, today: date) -> date:
    try:
        return min(date.fromisoformat(request.POST.get("day") or request.GET.get("day", "")), today)
    except ValueError:
        return today


def _posted(request: HttpRequest, page: HoursPage) -> HttpResponse:
    form, now = page.form, clock.now()
    answers = {name: True for name in ANSWERS if name in request.POST}
    try:
        if not form.is_valid():
            raise DocumentError([])
        with transaction.atomic():
            entered = _keep(request, form, answers)
        if entered is None and not any(entry.is_filled() for entry in form.left):
            form.told.append("Tick who worked.")
            raise DocumentError([])
        return _kept(request, entered, day_at_the_firm(now))
    except KeyUsedBefore:
        form.key, status = uuid.uuid4().hex, 409
        form.told.append(SENT_BEFORE)
    except DocumentError as error:
        form.complain(error)
        status = 422
    except AskFirst as question:
        form.asked = [(question.path, " ".join(question.sentences)), *((name, "") for name in answers)]
        status = 409
    except Refused as refusal:
        form.told += refusal.sentences
        status = 409
    return _shown(request, page, status)


def _keep(request: HttpRequest, form: HoursForm, answers: dict[str, bool]) -> Entered | None:
    signature, now = signature_of(request.user, clock.now()), clock.now()
    document, left = form.document(**answers), form.left_documents()
    person: Any = request.user
    entered = enter_hours(document, signature, now=now, among=workers_for(person)) if document else None
    for job, text in left:
        say_left(job, text, signature, now=now)
    return entered


def _kept(request: HttpRequest, entered: Entered | None, today: date) -> HttpResponse:
    if entered is None:
        messages.success(request, "Saved what is left.")
    elif not entered.is_new:
        messages.info(request, "These hours are saved already.")
    else:
        messages.success(request, f"Saved: {_sum(entered.rows)}.")
        if late := entered.late:
            month, own = month_words(late[0].posted_month), month_words(late[0].day)
            messages.warning(request, f"{own} is closed: {_sum(late)} count in {month}.")
    return answered(request, reverse("hours"))


def _sum(rows: tuple[TimeEntry, ...]) -> str:
    days = sorted({row.day for row in rows})
    who = {row.worker_id: row.worker.name for row in rows}
    names = " and ".join(sorted(who.values())) if len(who) < 3 else f"{len(who)} people"
    return f"{hours_words(sum(row.minutes for row in rows))} of {names}, {', '.join(map(day_words, days))}"


def _shown(request: HttpRequest, page: HoursPage, status: int = 200) -> HttpResponse:
    week = week_of(page.offered.near, page.day)
    there = {worker.worker.pk for worker in week if page.day in worker.days}
    context = {
        "page": page,
        "form": page.form,
        "is_today": page.day == page.today,
        "missing": [entry for entry in page.crew if entry.pk not in there],
        "in_already": [
            (worker.worker.name, hours_words(worker.days[page.day])) for worker in week if page.day in worker.days
        ],
        "week": [(worker.worker, hours_words(worker.minutes), _days(worker.days)) for worker in week],
        "week_sum": hours_words(sum(worker.minutes for worker in week)),
        "step_minutes": 15,
    }
    return render(request, "hours/hours.html", context, status=status)


def _days(days: dict[date, int]) -> list[tuple[date, str]]:
    return [(day, hours_words(minutes)) for day, minutes in sorted(days.items())]
