"""What the demonstration has on order: a hall whose trim came slower each time, an order nobody confirmed, a draft."""

from datetime import date, datetime
from decimal import ROUND_HALF_UP, Decimal

from django.db import transaction

from catalog.models import Material, Supplier
from catalog.services.book import firm_of
from catalog.services.order_terms import set_order_terms
from jobs.deliveries.services.receiving import calendar_of_supplier
from jobs.jobs.models import Job
from jobs.orders.models import Order
from jobs.orders.services.items import live_items
from quoting.job_files.services.job_files import import_job_file
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.models import Person
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.quotes import issue_quote
from quoting.service.demo.demo_desk import DemoOffice
from quoting.service.demo.demo_hall import BASE, BAYS, COUNTER, MILL, MILL_TERMS, Bay, bay_document, bay_key
from quoting.service.demo.demo_hours import hours_as_worked
from quoting.service.demo.demo_jobs import LEAD, pricing_signed
from quoting.service.demo.demo_months import FINISHED, DemoMonths, end_months, first_months, months_of
from quoting.service.demo.demo_site import find_faults, work_as_planned

LAST_BAY = BAYS[-1]
SIGNED_JOBS = [job.key for job in FINISHED] + [bay_key(bay.name) for bay in BAYS]
UNCONFIRMED_WORKDAYS = 3
QUOTED_WORKDAYS, SIGNED_WORKDAYS = 10, 4
JOINERY, OAK = "OTTERMERE", ("BASE-OAK-PRE", "CAP-OAK-PRE")
FRAME = ("TRACK-358", "STUD-358")
MEASURED_TWICE = "The radius was measured twice."


@transaction.atomic
def quote_signed_jobs(*, by: Person, now: datetime) -> list[QuoteRevision]:
    """Quotations of the jobs that were signed, each issued on its day; none where not all those days have come.

    Raises Refused.
    """
    months, issued = months_of(now), list(QuoteRevision.objects.filter(quote__job__key__in=SIGNED_JOBS))
    first = _first_day(months.today)
    if issued or Order.objects.exists() or not _is_quoted(firm_of().calendar.back(first, QUOTED_WORKDAYS)):
        return issued
    jobs = [months.quote(job, month, by) for job, month in zip(FINISHED, months.firsts, strict=False)]
    return jobs + [_quote_bay(bay, _mill_days_after(first, bay.after), by, now) for bay in BAYS]


def _quote_bay(bay: Bay, ordered_on: date, by: Person, now: datetime) -> QuoteRevision:
    desk = DemoOffice(by.full_name, firm_of().calendar.back(ordered_on, QUOTED_WORKDAYS))
    job = _bay(bay, ordered_on, desk.on, now)
    return issue_quote(job, request_key=f"demo {job.key}", seen_mark=None, by=by, now=desk.now, today=desk.on)


@transaction.atomic
def load_demo_orders(*, framed: str, panelled: str, by: str, now: datetime) -> bool:
    """Only where nothing was ever ordered, and where what was signed is quoted. Whether there are orders now.

    framed, panelled: keys of the jobs whose framing is drafted, and whose oak is on order. The papers of
    `quote_signed_jobs` are made. Raises Refused.
    """
    if Order.objects.exists():
        return True
    desk = DemoOffice(by, day_at_the_firm(now))
    if not QuoteRevision.objects.filter(quote__job__key__in=SIGNED_JOBS).exists():
        return False
    first, months = _first_day(desk.on), months_of(now)
    set_order_terms(MILL, MILL_TERMS | {"stated_on": first.isoformat()})
    first_months(months)
    for bay in BAYS:
        job, ordering = Job.objects.get(key=bay_key(bay.name)), desk.on_day(_mill_days_after(first, bay.after))
        months.sign(job, firm_of().calendar.back(ordering.on, SIGNED_WORKDAYS), by="Ysolde Marrin")
        _build(bay, job, ordering, months)
    work_as_planned(job, LEAD, desk.on)
    find_faults(job, LEAD, desk.on, now)
    hours_as_worked(job, now=now, today=desk.on)
    end_months(months)
    office = desk.on_day(firm_of().calendar.back(desk.on, UNCONFIRMED_WORKDAYS))
    office.place(Job.objects.get(key=panelled), JOINERY, OAK, reason="The owner has it ordered early: the oak is rare.")
    desk.draft(Job.objects.get(key=framed), COUNTER, FRAME)
    return True


def _first_day(today: date) -> date:
    """So long ago that the last of the bays came on the working day before today."""
    mill = Supplier.objects.get(code=MILL).to_core().calendar
    term = Material.objects.get(code=BASE).to_core().lead_terms[-1]
    taken = _share(term.production_days + term.transit_workdays, LAST_BAY.ratio)
    return mill.back(today, 1 + taken + LAST_BAY.after)


def _is_quoted(day: date) -> bool:
    """Whether all suppliers had said by then how long they take; before, there is nothing to hold an order against."""
    materials = Material.objects.filter(supplier__code__in=(MILL, COUNTER, JOINERY)).prefetch_related("lead_terms")
    terms = [[term.stated_on for term in material.lead_terms.all()] for material in materials]
    return all(min(days) <= day for days in terms if days)


def _mill_days_after(day: date, workdays: int) -> date:
    return Supplier.objects.get(code=MILL).to_core().calendar.forward(day, workdays)


def _share(quoted: int, ratio: Decimal) -> int:
    return int((quoted * ratio).quantize(Decimal(1), ROUND_HALF_UP))


def _bay(bay: Bay, ordered_on: date, priced_on: date, now: datetime) -> Job:
    trim_on = _trim_on(ordered_on)
    days = {"starts_on": firm_of().calendar.back(trim_on, 15), "trim_on": trim_on}
    return import_job_file(
        bay_document(bay.name, pricing=pricing_signed(priced_on, f"Gallery screen, {bay.name} bay"), **days), now=now
    )


def _trim_on(ordered_on: date) -> date:
    return firm_of().calendar.forward(ordered_on, 32)


def _build(bay: Bay, job: Job, desk: DemoOffice, months: DemoMonths) -> None:
    firm, today = firm_of().calendar, months.today
    order = desk.place(job, MILL, (BASE,), reason=MEASURED_TWICE)
    line = order.lines.get()
    assert line.quoted_workdays is not None and line.quoted_dock_on is not None and order.counted_from is not None
    desk.on_day(firm.forward(desk.on, 1)).hear_confirmed(order, line.quoted_dock_on)
    taken = _share(line.quoted_workdays, bay.ratio)
    came = min(calendar_of_supplier(order).forward(order.counted_from, taken), firm.back(today, 1))
    if bay is LAST_BAY:
        office = desk.on_day(firm.back(line.quoted_dock_on, 2))
        office.hear_late(order, came, "A mould cracked and was made anew")
        _have_from_counter(job, desk.on_day(firm.back(_trim_on(desk.on), 24)))
    note = f"{bay.damaged} pieces cracked at the end" if bay.damaged else ""
    desk.on_day(came).check_in(order, [line], damaged=bay.damaged, note=note)
    if bay is not LAST_BAY:
        months.finish_bay(job, order, came, bay)
        months.close(job, min(firm.forward(came, 5), today))


def _have_from_counter(job: Job, desk: DemoOffice) -> None:
    """What the open bay takes beside its trim came as quoted, so that only the trim is still asked for."""
    live = live_items(job, desk.moment)
    stock = [code for code, item in live.items() if item.need.supplier == COUNTER]
    order = desk.place(job, COUNTER, stock)
    days = {line.quoted_dock_on for line in order.lines.all()}
    for day in sorted(day for day in days if day is not None):
        desk.on_day(day).check_in(order, order.lines.filter(quoted_dock_on=day))
