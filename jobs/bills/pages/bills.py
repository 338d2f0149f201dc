"""Bills: the list with what waits for one, one bill, and the form that enters it."""

from itertools import groupby
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.bills.models import Bill, BillPhoto
from jobs.bills.pages.form import BillForm
from jobs.bills.pages.offered import short
from jobs.bills.services.agreed_credits import agreed_credits_of
from jobs.bills.services.differences import Differs
from jobs.bills.services.entering import enter_bill, enter_draft
from jobs.bills.services.listing import OpenGoods, bills, bills_in, open_goods
from jobs.core.costs.bills import NOTHING, AgreedCredit
from jobs.deliveries.pages.acting import request_key
from jobs.jobs.models import Job
from jobs.walls.pages.pages import photo_response
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.formatting import amount_words

A_PAGE = 10


@firm_first
def bill_list(request: HttpRequest) -> HttpResponse:
    today, waiting = day_at_the_firm(clock.now()), open_goods()
    rows = bills().exclude(entered_at=None, voided_at=None)
    context = {
        "today": today,
        "drafts": bills_in("draft").order_by("made_at"),
        "waiting": _by_supplier(waiting),
        "owed": sum((goods.amount or NOTHING for goods in waiting), NOTHING),
        "unpriced": sum(goods.amount is None for goods in waiting),
        "page": Paginator(rows, A_PAGE).get_page(request.GET.get("page")),
        "credits": _credits(),
        "currency": firm_of().currency,
    }
    return render(request, "bills/list.html", context)


def _credits() -> list[tuple[Job, AgreedCredit]]:
    """Of open jobs."""
    jobs = {job.pk: job for job in Job.objects.filter(closed_on=None)}
    return [(jobs[pk], credit) for pk, mine in agreed_credits_of(jobs).items() for credit in mine]


def _by_supplier(waiting: list[OpenGoods]) -> list[dict[str, Any]]:
    """Whose goods wait the longest comes first."""
    result = []
    by_code = sorted(waiting, key=lambda entry: entry.line.order.supplier_id)
    for _, mine in groupby(by_code, key=lambda entry: entry.line.order.supplier_id):
        goods = list(mine)
        result.append(
            {
                "supplier": goods[0].line.order.supplier,
                "first": short(goods[0].line),
                "more": len(goods) - 1,
                "amount": sum((goods_row.amount or NOTHING for goods_row in goods), NOTHING),
                "since": min(goods_row.came_on for goods_row in goods if goods_row.came_on),
            }
        )
    return sorted(result, key=lambda entry: entry["since"])


@firm_first
def bill(request: HttpRequest, bill_id: int) -> HttpResponse:
    row = get_object_or_404(
        bills().prefetch_related("lines__order_line__order", "lines__order", "accepted"), pk=bill_id
    )
    lines = sorted(row.lines.all(), key=lambda line: (line.job_id is None, line.job_id or 0, line.place))
    jobs = [(job, list(mine)) for job, mine in groupby(lines, key=lambda line: line.job)]
    context = {
        "bill": row,
        "jobs": [(job, mine, sum((entry.amount + entry.tax for entry in mine), NOTHING)) for job, mine in jobs],
        "currency": firm_of().currency,
    }
    return render(request, "bills/bill.html", context)


@firm_first
def bill_add(request: HttpRequest) -> HttpResponse:
    wanted = {name: request.GET.get(name, "") for name in ("supplier", "kind") if request.GET.get(name)}
    return _entry(request, None, {"day": day_at_the_firm(clock.now()).isoformat(), **wanted})


@firm_first
def bill_enter(request: HttpRequest, bill_id: int) -> HttpResponse:
    draft = get_object_or_404(bills(), pk=bill_id)
    if not draft.is_draft or draft.is_voided:
        return redirect("bill", draft.pk)
    return _entry(request, draft, {"day": draft.day.isoformat(), "note": draft.note, **request.GET.dict()})


def _entry(request: HttpRequest, draft: Bill | None, initial: dict[str, Any]) -> HttpResponse:
    form, status = BillForm(request, initial, request_key=request_key(request), draft=draft), 200
    if request.method == "POST" and request.POST.get("do", "save") == "save":
        status = 422
        if form.is_valid():
            try:
                row, is_new = _entered(request, form, draft)
            except DocumentError as error:
                form.complain(error)
            except Differs as differs:
                form.differs = list(differs.sentences)
            except Refused as refusal:
                form.told, status = list(refusal.sentences), 409
            else:
                message = "Entered" if is_new else "Entered before, so not entered again"
                messages.success(request, f"{message}: {row.number} of {row.seller}, {amount_words(row.total)}.")
                return redirect("bill", row.pk)
    context = {
        "form": form,
        "draft": draft,
        "currency": firm_of().currency,
        "version": request.POST.get("seen_version", draft.version if draft else ""),
    }
    return render(request, "bills/entry.html", context, status=status)


def _entered(request: HttpRequest, form: BillForm, draft: Bill | None) -> tuple[Bill, bool]:
    now = clock.now()
    signature = signature_of(request.user, now)
    if draft is None:
        return enter_bill(form.document(), signature, now=now)
    seen = request.POST.get("seen_version", "")
    version = int(seen) if seen.isascii() and seen.isdigit() and len(seen) < 10 else 0
    return enter_draft(draft, form.document(), signature, seen_version=version, now=now)


def bill_photo(request: HttpRequest, photo_id: int) -> HttpResponse:
    return photo_response(get_object_or_404(BillPhoto, pk=photo_id))
