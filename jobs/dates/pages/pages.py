"""When everything must be decided and ordered, over all open jobs and for one."""

from collections.abc import Iterable
from dataclasses import replace

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.dates.pages.filters import Filters
from jobs.dates.pages.lines import ItemLine, gaps_of_items, line_reader
from jobs.dates.pages.listing import listing, suppliers_of
from jobs.dates.pages.to_order_rows import to_order_list
from jobs.dates.pages.undated import undated_lines
from jobs.dates.services.item_schedule import DateContext, DatedItem, OpenJobItems, open_items
from jobs.dates.services.jobs_needing_action import undated_sentences
from jobs.dates.services.order_dates_paper import request_order_dates
from jobs.dates.services.ordered_items import Lines
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.jobs.services.signed import UNSIGNED, WORKS
from jobs.work_up.services.job_work_up import work_of
from quoting.platform import clock
from quoting.platform.errands.models import Errand
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.papers import RENDER_ORDER_DATES, list_papers, paper_of
from quoting.platform.people.access import sees_suppliers

MAX_JOBS_LISTED = 100


@firm_first
def order_dates(request: HttpRequest) -> HttpResponse:
    """What must be ordered, and when, of all open jobs."""
    read = open_items(moment_at_the_firm(clock.now()))
    filters = Filters.of(request, sees_suppliers=sees_suppliers(request))
    jobs = Job.objects.filter(closed_on=None).order_by("key")
    context = {
        "jobs": list(jobs.only("key", "title")[: MAX_JOBS_LISTED + 1]),
        "most_jobs_listed": MAX_JOBS_LISTED,
        "undated_lines": [] if filters.is_narrow or filters.ordered else undated_lines(read),
    }
    return render(request, "dates/order_dates.html", {**_listed(request, read, filters), **context})


@firm_first
def job_order_dates(request: HttpRequest, job_id: int) -> HttpResponse:
    """The same of one job."""
    job, with_suppliers = job_or_404(job_id), sees_suppliers(request)
    read = open_items(moment_at_the_firm(clock.now()), job)
    filters = replace(Filters.of(request, sees_suppliers=with_suppliers), job=job.key)
    errand = Errand.objects.filter(kind=RENDER_ORDER_DATES, payload__job=job.pk).order_by("-pk").first()
    context = {
        "job": job,
        "errand": errand if with_suppliers else None,
        "errand_paper": paper_of(errand) if errand and with_suppliers else None,
        "papers": list_papers(job, PaperKind.ORDER_DATES) if with_suppliers else [],
    }
    return render(request, "dates/order_dates.html", {**_listed(request, read, filters), **context})


def _listed(request: HttpRequest, read: OpenJobItems, filters: Filters) -> dict[str, object]:
    with_suppliers = filters.sees_suppliers
    result = listing(read, filters, page_number(request))
    lines = lines_of(read.desk, result.items, result.ordered, with_suppliers=with_suppliers)
    gaps = gaps_of_items([*result.undated, *result.items])
    if not filters.asks_for_nothing:
        gaps = [*undated_sentences(read, filters.job), *gaps]
    return {
        "today": read.desk.today,
        "with_jobs": not filters.job,
        "filters": filters,
        "with_suppliers": with_suppliers,
        "clears_undated": with_suppliers,
        "suppliers": suppliers_of(read) if with_suppliers else [],
        "works": WORKS,
        "awaited": read.awaited,
        "listing": result,
        "lines": lines,
        "list": to_order_list(lines, read.desk, with_suppliers=with_suppliers, all_unsigned=filters.work == UNSIGNED),
        "totals": result.totals,
        "signed": result.totals - result.unsigned,
        "unsigned": result.unsigned,
        "gaps": list(dict.fromkeys(gaps)),
    }


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


def page_number(request: HttpRequest) -> int:
    wanted = request.GET.get("page", "")
    return int(wanted) if wanted.isascii() and wanted.isdigit() and len(wanted) <= 6 else 1


def lines_of(desk: DateContext, items: Iterable[DatedItem], ordered: Lines, *, with_suppliers: bool) -> list[ItemLine]:
    items = list(items)
    reader = line_reader(desk, items, ordered, with_suppliers=with_suppliers)
    return [reader.line_of(item) for item in items]
