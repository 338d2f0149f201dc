"""A bill voided, and a slip photographed on site."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.reasons import MAX_WHY
from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from jobs.bills.services.drafts import send_slip
from jobs.bills.services.listing import bills
from jobs.bills.services.reading import MAX_NOTE
from jobs.bills.services.voiding import void_bill
from jobs.deliveries.pages.acting import form_page, request_key
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.entry_form import EntryForm, text
from quoting.platform.pages.kept_form import answered

NO_VERSION = 0


class VoidForm(EntryForm):
    reason = text("Why", "Such as: entered twice, another firm's.", longest=MAX_WHY, rows=2)
    version = forms.CharField(widget=forms.HiddenInput, max_length=9)


class SlipForm(EntryForm):
    file = forms.FileField(
        label="Photo of the slip",
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png", "capture": "environment"}),
    )
    note = text("What for", "The job, and what was bought.", longest=MAX_NOTE)


def bill_void(request: HttpRequest, bill_id: int) -> HttpResponse:
    row, now = get_object_or_404(bills(), pk=bill_id), clock.now()
    name = row.number or "the draft"

    def act(entries: dict[str, Any]) -> str:
        seen = entries.pop("version", "")
        version = int(seen) if seen.isascii() and seen.isdigit() else NO_VERSION
        void_bill(row, entries, signature_of(request.user, now), seen_version=version, now=now)
        return f"Voided: {name}. It stays visible and counts for nothing."

    form = VoidForm(request.POST or None, {"version": str(row.version)})
    to = reverse("bill", args=[row.pk])
    return form_page(request, form, act, to, heading=f"Void {name}", button="Void the bill", back_label=name)


@firm_first
def bill_slip(request: HttpRequest) -> HttpResponse:
    form, key, now = SlipForm(request.POST or None), request_key(request), clock.now()
    form.files = request.FILES
    status = 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            sent = form.cleaned_data["file"]
            document = {"request_key": key, "note": form.cleaned_data["note"] or ""}
            try:
                send_slip(document, sent.read() if sent else b"", signature_of(request.user, now), now=now)
            except DocumentError as error:
                form.complain(error)
            except Refused as refusal:
                form.add_error(None, str(refusal))
                status = 409
            else:
                messages.success(request, "The slip is with the office.")
                return answered(request, reverse("receiving"))
    return render(request, "bills/slip.html", {"form": form, "request_key": key}, status=status)
