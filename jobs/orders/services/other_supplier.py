"""An order being put together for another supplier: the jobs buy its items there from then on."""

from dataclasses import replace
from datetime import datetime

from django.db import transaction

from catalog.core.ground.refusal import Refused
from catalog.core.materials.offers import sellers_of
from catalog.models import Supplier
from catalog.services.row_sync import save_if_changed
from jobs.core.schedule.job_spec import ItemDates, JobSpec
from jobs.jobs.models import Job
from jobs.jobs.services.versions import next_version
from jobs.orders.models import Order, OrderLine
from jobs.orders.services.drafting import bring_up_to_date, held_draft
from jobs.whole_jobs.services.job_store import fill_job


def others_for(order: Order) -> list[Supplier]:
    """Those who sell all that is on a draft, but for whom it is for."""
    lines = list(order.lines.select_related("material"))
    every = [set(sellers_of(line.material.to_core())) for line in lines]
    codes = set.intersection(*every) - {order.supplier_id} if every else set()
    return list(Supplier.objects.filter(code__in=codes).order_by("name"))


@transaction.atomic
def put_to(order: Order, supplier: Supplier, *, seen_version: int, moment: datetime) -> Order:
    """The draft goes to them, with their prices and days. Raises Refused."""
    order = held_draft(order.pk, seen_version)
    lines = list(order.lines.select_related("job", "material"))
    for line in lines:
        _refuse(line, supplier)
    for job in {line.job_id: line.job for line in lines}.values():
        have_from(job, [line.material_id for line in lines if line.job_id == job.pk], supplier.code)
    save_if_changed(order, {"supplier_id": supplier.code})
    return bring_up_to_date(order, seen_version=order.version, moment=moment)


def _refuse(line: OrderLine, supplier: Supplier) -> None:
    if line.replaces_id is not None:
        raise Refused(f"Line {line.place} is in the place of what came damaged or wrong: its supplier sends it again.")
    if supplier.code not in sellers_of(line.material.to_core()):
        way_out = "enter its price and lead time with the material first"
        raise Refused(f"{supplier} offers no {line.material.name}: {way_out}.")


@transaction.atomic
def have_from(job: Job, materials: list[str], supplier: str | None) -> None:
    """A job has these materials from a supplier from now on; None: from the preferred one."""
    job = Job.objects.select_for_update().get(pk=job.pk)
    spec = job.to_core()
    next_version(job, None)
    fill_job(job, _with_supplier(spec, materials, supplier))
    job.forget_parts()


def _with_supplier(spec: JobSpec, materials: list[str], supplier: str | None) -> JobSpec:
    known = {date.material for date in spec.dates}
    dates = [*spec.dates, *(ItemDates(code) for code in materials if code not in known)]
    changed = (replace(days, supplier=supplier) if days.material in materials else days for days in dates)
    return replace(spec, dates=tuple(days for days in changed if days != ItemDates(days.material)))
