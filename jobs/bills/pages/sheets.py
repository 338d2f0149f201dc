"""Bills from a file: chosen, looked at, then entered all or none."""

import base64
import binascii

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.pages.sheets import SheetForm
from catalog.services.sheets.previews import NOT_THE_FILE
from jobs.bills.services.sheet import Outcome, apply, columns, preview
from quoting.platform import clock
from quoting.platform.firm_day import signature_of


@firm_first
def bills_in(request: HttpRequest) -> HttpResponse:
    form, now = SheetForm(request.POST or None, request.FILES or None, label_suffix=""), clock.now()
    if request.method == "POST" and form.is_valid():
        content = form.cleaned_data["sheet"]
        return _looked_at(request, content, preview(content, signature_of(request.user, now), now=now))
    return render(request, "bills/file.html", {"form": form}, status=422 if form.is_bound else 200)


@firm_first
def bills_apply(request: HttpRequest) -> HttpResponse:
    now, posted = clock.now(), request.POST
    signature = signature_of(request.user, now)
    try:
        content = base64.b64decode(posted.get("content", ""), validate=True)
    except (binascii.Error, ValueError):
        content = b""
    if not content:
        messages.error(request, NOT_THE_FILE)
        return redirect("bills_in")
    try:
        bills = apply(content, posted.get("sha256", ""), posted.getlist("accept"), signature, now=now)
    except Refused as refusal:
        outcome = preview(content, signature, now=now)
        accepted = set(posted.getlist("accept"))
        return _looked_at(request, content, outcome, sentences=refusal.sentences, accepted=accepted)
    before = f", {len(bills.kept)} entered before" if bills.kept else ""
    messages.success(request, f"Entered from the file: {len(bills.new)}{before}.")
    return redirect("bill_list")


def _looked_at(
    request: HttpRequest,
    content: bytes,
    outcome: Outcome,
    sentences: tuple[str, ...] = (),
    accepted: frozenset[str] | set[str] = frozenset(),
) -> HttpResponse:
    context = {
        "outcome": outcome,
        "content": base64.b64encode(content).decode(),
        "form": SheetForm(label_suffix=""),
        "told": [] if outcome.errors or outcome.differs else sentences,
        "accepted": accepted,
    }
    status = 409 if sentences else 422 if outcome.errors else 200
    return render(request, "bills/file_preview.html", context, status=status)


def bills_columns(request: HttpRequest) -> HttpResponse:
    response = HttpResponse(columns(), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = 'attachment; filename="bills.csv"'
    return response
