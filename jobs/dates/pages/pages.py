"""When everything must be decided and ordered, over all open jobs and for one."""

from collections.abc import Iterable
from datetime import date, timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.dates.pages.filters import Filters
from jobs.dates.pages.lines import ItemLine, by_days_in_hand, gaps_of_items, line_reader, time_line
from jobs.dates.pages.listing import Totals, listing, suppliers_of, totals_of, weeks_to_order
from jobs.dates.pages.undated import undated_lines
from jobs.dates.services.item_schedule import DateContext, DatedItem, desk_at, items_of_work, open_items
from jobs.dates.services.jobs_needing_action import undated_of, undated_sentences
from jobs.dates.services.order_dates_paper import request_order_dates
from jobs.dates.services.ordered_items import Lines, lines_of_items
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.jobs.services.signed import WORKS
from jobs.orders.services.ways import ways_of
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.papers import RENDER_ORDER_DATES, list_papers, paper_of
from quoting.platform.people.access import sees_suppliers
from quoting.platform.screen_days import day_words

MOST_JOBS_LISTED = 100


@firm_first
def order_dates(request: HttpRequest) -> HttpResponse:
    with_suppliers = sees_suppliers(request)
    read = open_items(moment_at_the_firm(clock.now()))
    filters = Filters.of(request, sees_suppliers=with_suppliers)
    found = listing(read, filters, page_asked(request))
    lines = lines_of(read.desk, found.items, found.ordered, with_suppliers=with_suppliers)
    gaps = gaps_of_items([*found.undated, *found.items])
    if not filters.asks_for_nothing:
        gaps = [*undated_sentences(read, filters.job), *gaps]
    jobs = Job.objects.filter(closed_on=None).order_by("key")
    context = {
        **shown(lines, read.desk.today, with_jobs=True, with_suppliers=with_suppliers),
        "totals": found.totals,
        "unsigned": found.unsigned,
        "works": WORKS,
        "filters": filters,
        "weeks": [week_words(monday) for monday in weeks_to_order(read)],
        "suppliers": suppliers_of(read) if with_suppliers else [],
        "jobs": list(jobs.only("key", "title")[: MOST_JOBS_LISTED + 1]),
        "most_jobs_listed": MOST_JOBS_LISTED,
        "gaps": list(dict.fromkeys(gaps)),
        "listing": found,
        "awaited": read.awaited,
        "undated_lines": [] if filters.is_narrow or filters.ordered else undated_lines(read),
        "clears_undated": with_suppliers,
    }
    return render(request, "dates/order_dates.html", context)


@firm_first
def job_order_dates(request: HttpRequest, job_id: int) -> HttpResponse:
    """Worked up live, whatever the rows say: of one job that is quick, and nothing of it can be old."""
    job, moment, with_suppliers = job_or_404(job_id), moment_at_the_firm(clock.now()), sees_suppliers(request)
    desk = desk_at(moment)
    work = work_of(job, book_of(), desk.today, desk.now_at)
    items = items_of_work(work)
    lines = by_days_in_hand(lines_of(desk, items, lines_of_items(items), with_suppliers=with_suppliers))
    errand = Errand.objects.filter(kind=RENDER_ORDER_DATES, payload__job=job.pk).order_by("-pk").first()
    late = sum(1 for line in lines if line.coming is not None and line.coming.is_late)
    context = {
        **shown(lines, desk.today, with_jobs=False, with_suppliers=with_suppliers),
        "totals": totals_of([line.need for line in lines if line.coming is None]) + Totals(late_on_order=late),
        "job": job,
        "gaps": list(dict.fromkeys([*undated_of(work), *gaps_of_items(items)])),
        "ways": ways_of(work, moment) if with_suppliers else [],
        "errand": errand if with_suppliers else None,
        "errand_paper": paper_of(errand) if errand and with_suppliers else None,
        "papers": list_papers(job, PaperKind.ORDER_DATES) if with_suppliers else [],
    }
    return render(request, "dates/job_order_dates.html", context)


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


def page_asked(request: HttpRequest) -> int:
    asked = request.GET.get("page", "")
    return int(asked) if asked.isascii() and asked.isdigit() and len(asked) <= 6 else 1


def week_words(monday: date) -> tuple[str, str]:
    return monday.isoformat(), f"{day_words(monday)} to {day_words(monday + timedelta(days=4))}"


def lines_of(desk: DateContext, items: Iterable[DatedItem], ordered: Lines, *, with_suppliers: bool) -> list[ItemLine]:
    items = list(items)
    reader = line_reader(desk, items, ordered, with_suppliers=with_suppliers)
    return [reader.line_of(item) for item in items]


def shown(lines: list[ItemLine], today: date, *, with_jobs: bool, with_suppliers: bool) -> dict[str, object]:
    svg, left_out = time_line([line for line in lines if line.coming is None], today, with_jobs=with_jobs)
    return {
        "today": today,
        "lines": lines,
        "with_jobs": with_jobs,
        "with_suppliers": with_suppliers,
        "svg": svg,
        "left_out": left_out,
    }
