"""What needs a hand today, sorted by days in hand; for a new firm, how to start."""

from dataclasses import dataclass
from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from catalog.models import Firm, Material
from catalog.services.book import NoFirmYet
from jobs.core.needs import DatedNeed
from jobs.core.order_by import days_in_hand, days_in_hand_in_words, standing
from jobs.models import Job
from quoting import access, clock
from quoting.core.work_up import calendar_of
from quoting.models import QuoteRevision, RevisionState
from quoting.services.findings import findings_for
from quoting.services.firm_day import moment_at_the_firm
from quoting.services.open_work import OpenWork, open_work
from quoting.services.wording import day_words

# Ours: two working weeks ahead is what one looks at on a Monday.
SOON_WORKDAYS = 10


@dataclass(frozen=True)
class Matter:
    """One thing that needs a hand, in a sentence. in_hand: working days left, negative when late."""

    job: Job
    sentence: str
    day: str
    in_hand: int
    url: str

    @property
    def words(self) -> str:
        return days_in_hand_in_words(self.in_hand)

    @property
    def standing(self) -> str:
        return standing(self.in_hand)


@dataclass(frozen=True)
class Blocked:
    """A job that lacks something before it can be dated, built or priced."""

    job: Job
    sentences: tuple[str, ...]
    more: int


FIRST_SENTENCES = 3


def today(request: HttpRequest) -> HttpResponse:
    role = access.role_of(request.user)
    at_desk = role in access.DESK
    moment = moment_at_the_firm(clock.now())
    day = moment.date()
    try:
        work = open_work(day, moment.time())
    except NoFirmYet:
        work = []
    matters = [matter for one in work for matter in _matters(one, at_desk)]
    soon = [matter for matter in matters if matter.in_hand <= SOON_WORKDAYS]
    if at_desk:
        soon += lapsing(work, day)
    context = {
        "today": day,
        "at_desk": at_desk,
        "matters": sorted(soon, key=lambda one: (one.in_hand, one.job.key, one.sentence)),
        "later": len(matters) - sum(1 for one in matters if one.in_hand <= SOON_WORKDAYS),
        "soon_workdays": SOON_WORKDAYS,
        "blocked": [found for one in work if (found := _blocked(one, at_desk))],
        "any_job": Job.objects.exists(),
        "steps": _steps() if not work else [],
    }
    return render(request, "today/today.html", context)


def _matters(work: OpenWork, at_desk: bool) -> list[Matter]:
    if work.done is None:
        return []
    url = reverse("job_order_dates", args=[work.job.pk])
    matters = []
    for need in work.done.needs:
        if need.dates is None or need.in_hand is None:
            continue
        if at_desk and need.decide_in_hand is not None and need.sign_off_workdays and need.is_long_lead:
            told = f"Have {need.name} signed off, so that it can be ordered."
            matters.append(Matter(work.job, told, day_words(need.dates.decide_by), need.decide_in_hand, url))
        matters.append(_order(work, need, url, at_desk))
    return matters


def _order(work: OpenWork, need: DatedNeed, url: str, at_desk: bool) -> Matter:
    assert need.dates is not None and need.in_hand is not None and need.need_by is not None
    if not at_desk:
        told = f"{need.name} must be on site by {day_words(need.need_by)}; the office orders it by the day given."
        return Matter(work.job, told, day_words(need.dates.order_by), need.in_hand, url)
    told = f"Order {need.name}; it must be on site by {day_words(need.need_by)}."
    if need.late_workdays:
        days = "day" if need.late_workdays == 1 else "days"
        told += f" Ordered today it would be {need.late_workdays} working {days} late."
    return Matter(work.job, told, day_words(need.dates.order_by), need.in_hand, url)


def lapsing(work: list[OpenWork], day: date) -> list[Matter]:
    """Issued quotes that can be accepted for only so many working days more."""
    by_job = {one.job.pk: one for one in work if one.done is not None}
    rows = QuoteRevision.objects.filter(state=RevisionState.ISSUED, quote__job__in=by_job, valid_until__gte=day)
    matters = []
    for row in rows.select_related("quote").defer("snapshot"):
        one = by_job[row.quote.job_id]
        assert one.done is not None
        left = days_in_hand(day, row.valid_until, calendar_of(one.done.read))
        if left <= SOON_WORKDAYS:
            told = f"Quote {row.quote.number}, revision {row.number}, can be accepted until that day."
            matters.append(Matter(one.job, told, day_words(row.valid_until), left, reverse("job", args=[one.job.pk])))
    return matters


def _blocked(work: OpenWork, at_desk: bool) -> Blocked | None:
    if work.done is None:
        return Blocked(work.job, (f"The job cannot be worked out. {work.trouble}.",), 0)
    told = [one.sentence for one in findings_for(work.done, at_desk) if one.weight in ("gap", "decide")]
    if not work.done.walls:
        told.insert(0, "No wall is entered yet.")
    told = list(dict.fromkeys(told))
    if not told:
        return None
    return Blocked(work.job, tuple(told[:FIRST_SENTENCES]), max(0, len(told) - FIRST_SENTENCES))


def _steps() -> list[tuple[str, str, bool, str]]:
    """How a new firm starts: what, why, whether it is done, and where."""
    firm, boards = Firm.objects.exists(), Material.objects.filter(kind="board").exists()
    return [
        ("Enter the firm", "Its name, time zone, units, currency and the days it is closed.", firm, "firm"),
        (
            "Fill the catalog",
            "At least a track, a stud and a board, with packs and prices. A list can be brought in as CSV.",
            boards,
            "catalog",
        ),
        ("Open a job and take a wall", "Chord and rise from a tape are enough to begin.", False, "job_add"),
    ]
