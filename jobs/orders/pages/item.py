"""One item of one job before it is ordered: what it would state, what holds it, its sample, and its release."""

import uuid
from datetime import date, timedelta

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from jobs.core.ordering.needs import DatedNeed
from jobs.core.ordering.release import waits_for
from jobs.drawings.item_strip import ItemDays, StripAxis, item_strip_svg, strip_axis_svg
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.orders.models import OrderState, SignOff
from jobs.orders.pages.acting import code_or_404
from jobs.orders.pages.shown import despite_words, item_row, shown_runs
from jobs.orders.services.items import live_item, on_orders
from jobs.orders.services.releasing import agree_sample, ask_for_sample, end_release, release_item, standing_of_item
from jobs.orders.services.to_decide import decided_items, is_to_decide
from jobs.orders.services.ways import ways_of
from jobs.work_up.services.job_work_up import JobResult
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm, signature_of
from quoting.platform.pages.step import step


@firm_first
def order_item(request: HttpRequest, job_id: int, material: str) -> HttpResponse:
    job, moment, material = job_or_404(job_id), moment_at_the_firm(clock.now()), code_or_404(material)
    try:
        item = live_item(job, material, moment)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("job_order_dates", job.pk)
    standing, so_far = standing_of_item(item, moment), on_orders([item]).get(item.key)
    placed = [line for line in (so_far.every if so_far else ()) if line.order.state == OrderState.PLACED]
    is_placed = bool(placed) and so_far is not None and so_far.is_covered and len(placed) == len(so_far.every)
    # Of what is on order nothing is released anew: the release it was ordered under stands.
    ordered_under = [line.release for line in placed if line.release and is_placed]
    released = standing.release or next(iter(ordered_under), None)
    context = {
        "job": job,
        "today": moment.date(),
        "item": item,
        "request_key": uuid.uuid4().hex,
        "row": item_row(standing),
        "standing": standing,
        "runs": shown_runs(item.statement, item.work_up.read.book.firm.display_units),
        "samples": SignOff.objects.filter(job=job, material=material),
        "so_far": so_far,
        "waits": waits_for(standing.holds) if standing.needs_release or standing.asks_reason else "",
        "to_sign_off": (to_sign_off := _is_open(job, item.need)),
        "decides_ahead": (item.need.decide_in_hand or 0) > 0 and to_sign_off,
        "days": abs(item.need.in_hand or 0),
        "strip": _strip(item.need, moment.date()) if not is_placed else "",
        "is_on_order": is_placed,
        "lines": placed,
        "released": released,
        "despite": despite_words(released.holds) if released else "",
        "ways": [ways for ways in ways_of(JobResult(job, item.work_up), moment) if ways.item.need.material == material],
        "supplier": item.work_up.read.book.suppliers.get(item.need.supplier or ""),
    }
    return render(request, "orders/item.html", context)


def _is_open(job: Job, need: DatedNeed) -> bool:
    return is_to_decide(need, is_decided=(job.pk, need.material) in decided_items([job.pk]))


def _strip(need: DatedNeed, today: date) -> str:
    if need.dates is None:
        return ""
    days = ItemDays(need.dates.order_by, need.dates.dock, need.dates.need_by, (need.in_hand or 0) < 0)
    first = min(today, need.dates.order_by)
    axis = StripAxis(first, max(need.dates.need_by, first + timedelta(days=1)))
    return strip_axis_svg(axis, today) + item_strip_svg(days, axis)


@firm_first
def order_item_release(request: HttpRequest, job_id: int, material: str) -> HttpResponse:
    job, posted, now, material = job_or_404(job_id), request.POST, clock.now(), code_or_404(material)

    def act() -> str:
        if "end" in posted:
            end_release(job, material, reason=posted.get("reason", ""), by=request.user.full_name, now=now)
            return "Release undone."
        row = release_item(
            job,
            material,
            seen_mark=posted.get("seen_mark", ""),
            reason=posted.get("reason", ""),
            by=request.user.full_name,
            now=now,
            moment=moment_at_the_firm(now),
        )
        return f"Released to order by {row.released_by_name}."

    return step(request, act, reverse("order_item", args=[job.pk, material]))


@firm_first
def order_item_sample(request: HttpRequest, job_id: int, material: str) -> HttpResponse:
    job, posted, now, material = job_or_404(job_id), request.POST, clock.now(), code_or_404(material)

    def act() -> str:
        signature = signature_of(request.user, now)
        if "sample" in posted:
            sample_id = posted["sample"] if posted["sample"].isascii() and posted["sample"].isdigit() else "0"
            row = get_object_or_404(SignOff, pk=sample_id[:9], job=job, material=material)
            agree_sample(row, posted.get("agreed_by", ""), signature)
            return "Entered: the sample is agreed to."
        live_item(job, material, moment_at_the_firm(now))
        ask_for_sample(job, material, posted.get("what", ""), signature, now)
        return "Entered: the item waits until somebody agrees to its sample."

    return step(request, act, reverse("order_item", args=[job.pk, material]))
