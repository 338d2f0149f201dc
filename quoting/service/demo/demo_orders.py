"""What the demonstration has on order: a hall whose trim came slower each time, an order nobody confirmed, a draft."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import ROUND_HALF_UP, Decimal

from django.db import transaction

from catalog.models import Material, Supplier
from catalog.services.book import firm_of
from catalog.services.order_terms import set_order_terms
from jobs.deliveries.services.receiving import calendar_of_supplier
from jobs.jobs.models import Job
from jobs.jobs.services.open_jobs import close_job
from jobs.orders.models import Order
from jobs.orders.services.items import live_items
from quoting.job_files.services.job_files import import_job_file
from quoting.platform.firm_day import day_at_the_firm
from quoting.service.demo.demo_desk import DemoOffice
from quoting.service.demo.demo_hall import BASE, COUNTER, MILL, MILL_TERMS, bay_document, bay_key


@dataclass(frozen=True)
class Bay:
    """after: the mill's working days from the first order to this one. ratio: what it took of what it had quoted."""

    name: str
    after: int
    ratio: Decimal
    damaged: int = 0


BAYS = (
    Bay("north", 0, Decimal("1.00")),
    Bay("middle", 12, Decimal("1.10")),
    Bay("south", 24, Decimal("1.30"), damaged=2),
)
LAST_BAY = BAYS[-1]
UNCONFIRMED_WORKDAYS = 3
JOINERY, OAK = "OTTERMERE", ("BASE-OAK-PRE", "CAP-OAK-PRE")
FRAME = ("TRACK-358", "STUD-358")
ON_PAPER = "The client signed on paper."


@transaction.atomic
def load_demo_orders(*, framed: str, panelled: str, by: str, now: datetime) -> bool:
    """Only where nothing was ever ordered, and where all its days have come. Whether there are orders now.

    framed, panelled: keys of the jobs whose framing is drafted, and whose oak is on order. Raises Refused.
    """
    if Order.objects.exists():
        return True
    desk = DemoOffice(by, day_at_the_firm(now))
    first = _first_day(desk.on)
    if not _is_quoted(first) or Job.objects.filter(key__in=[bay_key(bay.name) for bay in BAYS]).exists():
        return False
    set_order_terms(MILL, MILL_TERMS | {"stated_on": first.isoformat()})
    for bay in BAYS:
        _build(bay, desk.on_day(_mill_days_after(first, bay.after)), desk.on, now)
    asked = desk.on_day(firm_of().calendar.back(desk.on, UNCONFIRMED_WORKDAYS))
    asked.place(Job.objects.get(key=panelled), JOINERY, OAK, reason="The owner has it ordered early: the oak is rare.")
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


def _build(bay: Bay, desk: DemoOffice, today: date, now: datetime) -> None:
    firm = firm_of().calendar
    trim_on = firm.forward(desk.on, 32)
    job = import_job_file(bay_document(bay.name, starts_on=firm.back(trim_on, 15), trim_on=trim_on), now=now)
    order = desk.place(job, MILL, (BASE,), reason=f"{ON_PAPER} The radius was measured twice.")
    line = order.lines.get()
    assert line.quoted_workdays is not None and line.quoted_dock_on is not None and order.counted_from is not None
    desk.on_day(firm.forward(desk.on, 1)).hear_confirmed(order, line.quoted_dock_on)
    taken = _share(line.quoted_workdays, bay.ratio)
    came = min(calendar_of_supplier(order).forward(order.counted_from, taken), firm.back(today, 1))
    if bay is LAST_BAY:
        told = desk.on_day(firm.back(line.quoted_dock_on, 2))
        told.hear_late(order, came, "A mould cracked and was made anew")
        _have_from_counter(job, desk.on_day(firm.back(trim_on, 24)))
    note = f"{bay.damaged} pieces cracked at the end" if bay.damaged else ""
    desk.on_day(came).check_in(order, [line], damaged=bay.damaged, note=note)
    if bay is not LAST_BAY:
        close_job(Job.objects.get(pk=job.pk), min(firm.forward(came, 5), today))


def _have_from_counter(job: Job, desk: DemoOffice) -> None:
    """What the open bay takes beside its trim came as quoted, so that only the trim is still asked for."""
    live = live_items(job, desk.moment)
    stock = [code for code, item in live.items() if item.need.supplier == COUNTER]
    order = desk.place(job, COUNTER, stock, reason=ON_PAPER)
    days = {line.quoted_dock_on for line in order.lines.all()}
    for day in sorted(day for day in days if day is not None):
        desk.on_day(day).check_in(order, order.lines.filter(quoted_dock_on=day))
