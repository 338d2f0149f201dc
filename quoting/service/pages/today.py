"""What needs a hand today, sorted by days in hand; for a new firm, how to start."""

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.http import urlencode

from catalog.core.ground.workdays import calendar_with
from catalog.services.book import NoFirmYet, firm_of
from jobs.buying.services.expediting_facts import ToAsk, to_ask
from jobs.core.ordering.next_steps import NextStep
from jobs.core.ordering.order_by import days_in_hand, days_in_hand_in_words
from jobs.dates.pages.action_items import SOON_WORKDAYS, Matter, Matters, in_order, late_coming, matters
from jobs.dates.pages.undated import undated_lines
from jobs.dates.services.item_schedule import OpenJobItems, open_items
from jobs.dates.services.jobs_needing_action import WaitingJob, waiting_jobs
from jobs.jobs.models import Job
from jobs.jobs.services.signed import SIGNED, WORKS, work_typed
from jobs.orders.models import Order
from jobs.schedule.services.planned_days import crew_days_ahead
from jobs.walls.models import Wall
from quoting.alerts.services.attention import attention
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.people import access
from quoting.platform.people.models import Role
from quoting.platform.screen_days import day_words
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.service.pages.first_steps import first_steps
from quoting.service.services.own_day import own_day

FIRST_SENTENCES = 3
# Ours: how far ahead a crew can still be moved with little trouble.
CREWS_AHEAD_DAYS = 42
MOST_CHASES = 20
MOST_STEPS = 20


@dataclass(frozen=True)
class OwnStep:
    """A step of whoever reads. wall: the name of its wall. signed: whether its job is. hand: days in hand to the first
    order that waits for it."""

    job: Job
    step: NextStep
    wall: str
    url: str
    signed: bool
    hand: str


@dataclass(frozen=True)
class Blocked:
    """A job that lacks something before it can be dated, built or priced."""

    job: Job
    sentences: tuple[str, ...]
    more: int
    signed: bool


def today(request: HttpRequest) -> HttpResponse:
    role = access.role_of(request.user)
    at_desk = role in access.DESK
    moment = moment_at_the_firm(clock.now())
    try:
        read = open_items(moment)
        due = _due(read, at_desk, work_typed(request.GET.get("work", ""))) | _own(request, read)
    except NoFirmYet:
        due = {}
    context = {
        "today": moment.date(),
        "at_desk": at_desk,
        "soon_workdays": SOON_WORKDAYS,
        "any_job": Job.objects.exists(),
        "steps": first_steps(role, moment.date()),
        **due,
        **(_for_the_desk(moment) if at_desk else {}),
    }
    return render(request, "service/today.html", context)


def _own(request: HttpRequest, read: OpenJobItems) -> dict[str, Any]:
    found = own_day(request.user, read)  # type: ignore[arg-type]
    walls = Wall.objects.filter(job__in={job for job, _ in found.steps}).values_list("job", "key", "name")
    named = {(job, key): name for job, key, name in walls}
    steps = [
        OwnStep(
            job,
            step,
            named.get((job.pk, step.wall), ""),
            step_url(step),
            job.pk in read.signed,
            _in_hand(step, read),
        )
        for job, step in found.steps
    ]
    shown = request.user.role == Role.LEAD or bool(found.jobs)  # type: ignore[union-attr]
    return {
        "own": found if shown else None,
        "own_steps": steps[:MOST_STEPS],
        "more_steps": max(0, len(steps) - MOST_STEPS),
    }


def _in_hand(step: NextStep, read: OpenJobItems) -> str:
    return "" if step.by is None else days_in_hand_in_words(days_in_hand(read.desk.today, step.by, read.desk.calendar))


def step_url(step: NextStep) -> str:
    """Where it is done: a wall's field check, the register of templates, or the item that waits."""
    if step.kind == "template":
        return f"{reverse('templates', args=[step.job])}?{urlencode({'for': f'{step.wall}|{step.run}'})}#enter"
    if step.wall:
        return reverse("field_check", args=[step.job, step.wall])
    if len(step.materials) == 1:
        return reverse("order_item", args=[step.job, step.materials[0]])
    return reverse("job_order_dates", args=[step.job])


def _for_the_desk(moment: datetime) -> dict[str, Any]:
    try:
        asking = to_ask(moment.date(), firm_of().calendar)
    except NoFirmYet:
        asking = ToAsk((), ())
    chases = asking.beside_late
    shown, more = chases[:MOST_CHASES], max(0, len(chases) - MOST_CHASES)
    pages = dict(Order.objects.filter(number__in={one.order for one in shown}).values_list("number", "pk"))
    return {
        "chases": [(one, reverse("order", args=[pages[one.order]])) for one in shown],
        "more_chases": more,
        "bad_orders": asking.bad,
        "attention": attention(moment),
    }


def _due(read: OpenJobItems, at_desk: bool, work: str) -> dict[str, Any]:
    others = [*late_coming(read, at_desk=at_desk), *(lapsing(read) if at_desk else [])]
    waiting, more_waiting = waiting_jobs(read, at_desk=at_desk, work=work)
    groups = [_with(others, one, read) for one in matters(read, work, at_desk=at_desk)]
    return {
        "work": work,
        "works": WORKS,
        "groups": [one for one in groups if one.soon or one.more or one.later],
        "blocked": [_blocked(one) for one in waiting],
        "more_blocked": more_waiting,
        "awaited": read.awaited,
        "undated_lines": undated_lines(read),
        "clears_undated": at_desk,
        "crews": crew_days_ahead(read.desk.today, CREWS_AHEAD_DAYS, work),
    }


def _with(others: list[Matter], found: Matters, read: OpenJobItems) -> Matters:
    mine = [one for one in others if (one.job.pk in read.signed) is (found.work == SIGNED)]
    return replace(found, soon=tuple(sorted([*found.soon, *mine], key=in_order)))


def lapsing(read: OpenJobItems) -> list[Matter]:
    """Issued quotes of open jobs that can be accepted for only so many working days of the job more."""
    day, firm = read.desk.today, firm_of()
    rows = QuoteRevision.objects.filter(state=RevisionState.ISSUED, valid_until__gte=day, quote__job__closed_on=None)
    found = []
    for row in rows.select_related("quote__job").prefetch_related("quote__job__closures").defer("snapshot"):
        job = row.quote.job
        calendar = calendar_with(firm.name, (*firm.closures, *(one.to_core() for one in job.closures.all())))
        left = days_in_hand(day, row.valid_until, calendar)
        if left <= SOON_WORKDAYS:
            told = f"Quote {row.quote.number}, revision {row.number}, can be accepted until that day."
            found.append(Matter(job, told, day_words(row.valid_until), left, reverse("job", args=[job.pk])))
    return found


def _blocked(waiting: WaitingJob) -> Blocked:
    told = [f"The job cannot be worked out. {waiting.trouble}."] if waiting.trouble else list(waiting.sentences)
    more = max(0, len(told) - FIRST_SENTENCES)
    return Blocked(waiting.job, tuple(told[:FIRST_SENTENCES]), more, waiting.signed)
