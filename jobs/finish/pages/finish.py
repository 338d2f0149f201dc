"""The finish list of a job: entered and ticked on site, on a phone. No money and no supplier in here."""

from datetime import date, timedelta
from typing import Any

from django import forms
from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from jobs.deliveries.pages.acting import request_key
from jobs.finish.models import FinishItem, FinishPhoto
from jobs.finish.services.finish_list import (
    FinishEntry,
    MendedItem,
    add_item,
    add_photo_of,
    change_item,
    items_of,
    mend_item,
    open_again,
    people_of_the_firm,
)
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.walls.pages.pages import photo_response
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.declared_fields import form_field, form_of
from quoting.platform.pages.entry_form import EntryForm, pick
from quoting.platform.pages.step import step
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people.signatures import Signature

USUAL_TIME = timedelta(days=7)


class ItemForm(form_of(FinishEntry, "what", "due")):
    wall = pick("Where", ())
    who = pick("Who mends it", ())
    file = forms.FileField(
        label="Photo", widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png", "capture": True})
    )
    request_key = forms.CharField(widget=forms.HiddenInput, max_length=100)
    field_order = ("what", "wall", "who", "due", "file")

    def __init__(self, request: HttpRequest, job: Job, signature: Signature, stored: Stored | None = None) -> None:
        first = {"who": signature.by, "due": signature.on + USUAL_TIME, "request_key": request_key(request)}
        super().__init__(request.POST or None, None if stored else first, stored=stored)
        self.files = request.FILES
        self.fields["wall"].choices = [("", "the whole job"), *job.walls.values_list("key", "name")]
        self.fields["who"].choices = [(name, name) for name in people_of_the_firm(signature.on)]
        if stored:
            del self.fields["request_key"]

    def taken(self) -> tuple[dict[str, Any], bytes]:
        entries = self.entries()
        file = entries.pop("file", None)
        return entries, file.read() if file else b""


class MendForm(EntryForm):
    words = form_field(MendedItem, "words")


def finish_list(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    signature = signature_of(request.user, now)
    form = ItemForm(request, job, signature)

    def save() -> None:
        entries, photo = form.taken()
        add_item(job, entries, signature, now=now, photo=photo)

    if request.method == "POST" and form.saves(save):
        messages.success(request, "On the finish list.")
        return redirect("finish_list", job.pk)
    items = list(items_of(job))
    context = {
        "job": job,
        "today": signature.on,
        "form": form,
        "open": sorted((row for row in items if not row.mended_on), key=lambda row: _place(row, signature.on)),
        "mended": [row for row in items if row.mended_on],
    }
    return render(request, "finish/list.html", context, status=form.status())


@transaction.atomic
def _place(row: FinishItem, today: date) -> tuple[int, date, int]:
    """By wall, what is due first before the rest."""
    return row.wall.order if row.wall else 0, row.due or today, row.pk


def finish_item(request: HttpRequest, item_id: int) -> HttpResponse:
    hold(FinishItem.objects.filter(pk=item_id))
    item, now = item_or_404(item_id), clock.now()
    signature = signature_of(request.user, now)
    wall = item.wall.key if item.wall else ""
    values = {"what": item.what, "wall": wall, "who": item.who, "due": item.due}
    form = ItemForm(request, item.job, signature, Stored(values, item))

    def save() -> None:
        entries, photo = form.taken()
        change_item(item, entries, signature)
        if photo:
            add_photo_of(item, photo, signature, now=now)

    if request.method == "POST" and form.saves(save):
        messages.success(request, "Saved.")
        return redirect("finish_list", item.job_id)
    context = {"job": item.job, "item": item, "form": form, "mend": MendForm()}
    return render(request, "finish/item.html", context, status=form.status())


def finish_mended(request: HttpRequest, item_id: int) -> HttpResponse:
    item, signature = item_or_404(item_id), signature_of(request.user, clock.now())

    def act() -> str:
        if request.POST.get("do") == "open":
            open_again(item)
            return f"Open again: {item}."
        mend_item(item, {"words": request.POST.get("words", "").strip()}, signature)
        return f"Mended: {item}."

    return step(request, act, reverse("finish_list", args=[item.job_id]))


def finish_photo(request: HttpRequest, photo_id: int) -> HttpResponse:
    return photo_response(get_object_or_404(FinishPhoto, pk=photo_id))


def item_or_404(item_id: int) -> FinishItem:
    rows = FinishItem.objects.select_related("job__client", "wall").prefetch_related("photos")
    return get_object_or_404(rows, pk=item_id)
