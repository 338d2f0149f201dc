"""One request: its figures as issued, its paper, and its way to the client."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from quoting.payment_requests.models import PaymentRequest
from quoting.payment_requests.pages.asking import request_or_404
from quoting.payment_requests.services.asked import asked_of
from quoting.payment_requests.services.mailing import mails_of, send_request
from quoting.payment_requests.services.request_papers import frozen_request, paper_errand
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.mail_way import mail_stays, on_its_way
from quoting.platform.papers.papers import paper_of


@firm_first
def payment_request(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    return _page(request, request_or_404(job_id, number))


def request_send(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    row, now = request_or_404(job_id, number), clock.now()
    typed = {name: request.POST.get(name, "") for name in ("to_address", "message")}
    document = {"request_key": request.POST.get("request_key", ""), **typed}
    try:
        mail, _ = send_request(row, document, signature_of(request.user, now), now=now)
    except DocumentError as error:
        refusal = "; ".join(str(complaint) for complaint in error.complaints)
        return _page(request, row, status=422, mail_refusal=refusal, **typed)
    except Refused as refusal:
        return _page(request, row, status=422, mail_refusal=str(refusal), **typed)
    messages.success(request, on_its_way(row, mail.to_address))
    return redirect("payment_request", job_id, number)


def _page(request: HttpRequest, row: PaymentRequest, status: int = 200, **typed: Any) -> HttpResponse:
    errand, wanted = paper_errand(row), asked_of([row.job_id])[row.job_id]
    context = {
        "job": row.job,
        "row": row,
        "paper": frozen_request(row),
        "standing": next((entry for entry in wanted.requests if entry.request.number == row.number), None),
        "today": day_at_the_firm(clock.now()),
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
        "mails": mails_of(row),
        "mail_stays_here": mail_stays(),
        "request_key": uuid.uuid4().hex,
        "credit": PaymentRequest.objects.filter(credits=row).first(),
        **typed,
    }
    return render(request, "payment_requests/request.html", context, status=status)
