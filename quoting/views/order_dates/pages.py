"""When everything must be decided and ordered, over all open jobs and for one."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.text import slugify

from catalog.services.book import book_of
from jobs.models import Job
from quoting import access, clock
from quoting.models import Errand, PaperKind
from quoting.services.acceptance import open_windows
from quoting.services.calendar_file import calendar_bytes
from quoting.services.firm_day import day_at_the_firm, moment_at_the_firm
from quoting.services.open_work import OpenWork, open_work, work_of
from quoting.services.papers import RENDER_ORDER_DATES, list_papers, paper_of, request_order_dates
from quoting.services.wording import day_words
from quoting.views.firm_first import firm_first
from quoting.views.order_dates.lines import ItemLine, by_days_in_hand, gaps_of, item_lines, time_line

LATE = "late"


@dataclass(frozen=True)
class Filters:
    """What the list was narrowed to; each empty for everything."""

    week: str = ""
    supplier: str = ""
    job: str = ""
    long_lead: bool = False

    @classmethod
    def of(cls, request: HttpRequest) -> "Filters":
        asked = request.GET
        return cls(asked.get("week", ""), asked.get("supplier", ""), asked.get("job", ""), asked.get("only") == "long")

    def keep(self, line: ItemLine) -> bool:
        return (
            self._keeps_week(line)
            and self.supplier in ("", line.need.supplier if line.supplier else "")
            and self.job in ("", line.job.key)
            and (line.is_long_lead or not self.long_lead)
        )

    def _keeps_week(self, line: ItemLine) -> bool:
        if self.week == LATE:
            return line.standing in ("late", "due_today")
        return self.week in ("", line.week.isoformat() if line.week else "")


@firm_first
def order_dates(request: HttpRequest) -> HttpResponse:
    moment = moment_at_the_firm(clock.now())
    today, work = moment.date(), open_work(moment.date(), moment.time())
    filters, with_suppliers = Filters.of(request), sees_suppliers(request)
    windows = open_windows(today)
    every = by_days_in_hand(
        line for one in work for line in item_lines(one, with_suppliers=with_suppliers, windows=windows)
    )
    lines = [line for line in every if filters.keep(line)]
    shown_jobs = [one for one in work if filters.job in ("", one.job.key)]
    context = {
        **_shown(lines, today, with_jobs=True, with_suppliers=with_suppliers),
        "filters": filters,
        "weeks": weeks_of(every),
        "suppliers": sorted({(line.need.supplier, line.supplier) for line in every if line.supplier}),
        "jobs": [one.job for one in work],
        "gaps": gaps_of(shown_jobs),
        "is_narrowed": len(lines) != len(every),
    }
    return render(request, "order_dates/order_dates.html", context)


@firm_first
def job_order_dates(request: HttpRequest, job_id: int) -> HttpResponse:
    job, moment, with_suppliers = job_or_404(job_id), moment_at_the_firm(clock.now()), sees_suppliers(request)
    today = moment.date()
    work = work_of(job, book_of(), today, moment.time())
    lines = by_days_in_hand(item_lines(work, with_suppliers=with_suppliers, windows=open_windows(today)))
    errand = Errand.objects.filter(kind=RENDER_ORDER_DATES, payload__job=job.pk).order_by("-pk").first()
    context = {
        **_shown(lines, today, with_jobs=False, with_suppliers=with_suppliers),
        "job": job,
        "gaps": gaps_of([work]),
        "errand": errand if with_suppliers else None,
        "errand_paper": paper_of(errand) if errand and with_suppliers else None,
        "papers": list_papers(job, PaperKind.ORDER_DATES) if with_suppliers else [],
    }
    return render(request, "order_dates/job_order_dates.html", context)


@firm_first
def order_dates_paper(request: HttpRequest, job_id: int) -> HttpResponse:
    """Ask for the paper of the dates as they stand now."""
    job = job_or_404(job_id)
    work = work_of(job, book_of(), day_at_the_firm(clock.now()))
    if work.done is None:
        messages.error(request, f"The walls cannot be worked out, so there are no dates to print. {work.trouble}")
    elif not any(need.dates for need in work.done.needs):
        messages.error(request, "No item has dates yet, so there is nothing to print. Fill the gaps named below first.")
    else:
        request_order_dates(job, work.done, prepared_by=request.user.full_name, now=clock.now())
    return redirect("job_order_dates", job.pk)


@firm_first
def order_dates_calendar(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    work: OpenWork = work_of(job, book_of(), day_at_the_firm(clock.now()))
    if work.done is None:
        messages.error(request, f"The walls cannot be worked out, so there are no dates. {work.trouble}")
        return redirect("job_order_dates", job.pk)
    response = HttpResponse(calendar_bytes(work.done), content_type="text/calendar; charset=utf-8")
    name = slugify(job.key) or "job"
    response["Content-Disposition"] = f'attachment; filename="{name}-order-dates.ics"'
    return response


def sees_suppliers(request: HttpRequest) -> bool:
    return access.role_of(request.user) in access.DESK


def job_or_404(job_id: int) -> Job:
    return get_object_or_404(Job.objects.select_related("client"), pk=job_id)


def weeks_of(lines: list[ItemLine]) -> list[tuple[str, str]]:
    mondays = sorted({line.week for line in lines if line.week})
    return [(day.isoformat(), f"{day_words(day)} to {day_words(day + timedelta(days=4))}") for day in mondays]


def _shown(lines: list[ItemLine], today: date, *, with_jobs: bool, with_suppliers: bool) -> dict[str, object]:
    svg, left_out = time_line(lines, today, with_jobs=with_jobs)
    standings = [line.standing for line in lines]
    return {
        "today": today,
        "lines": lines,
        "with_jobs": with_jobs,
        "with_suppliers": with_suppliers,
        "late": standings.count("late"),
        "due_today": standings.count("due_today"),
        "ahead": standings.count("ahead"),
        "undated": standings.count(""),
        "svg": svg,
        "left_out": left_out,
    }
