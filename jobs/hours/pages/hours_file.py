"""Hours from a sheet: looked at first, then brought in, all or nothing."""

import base64

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.refusal import Refused
from catalog.pages.firm_first import firm_first
from catalog.pages.sheets import ApplyForm, SheetForm
from catalog.services.sheets.previews import NOT_THE_FILE
from jobs.core.costs.hours import hours_words
from jobs.hours.models import Worker
from jobs.hours.services.hours_sheet import COLUMNS, HoursPreview, apply_hours, preview_hours
from quoting.platform import clock
from quoting.platform.firm_day import signature_of

SAYS = "day, worker and hours are needed. On no job, say under elsewhere what was done. sure: yes, where it is asked."


class FileForm(SheetForm):
    def __init__(self, *given: object, **more: object) -> None:
        super().__init__(*given, label_suffix="", **more)  # type: ignore[arg-type]
        self.fields["sheet"].help_text = f"UTF-8 with commas. Columns: {', '.join(COLUMNS)}. {SAYS}"


@firm_first
def hours_file(request: HttpRequest) -> HttpResponse:
    if request.method != "POST":
        return render(request, "hours/file.html", {"form": FileForm()})
    form = FileForm(request.POST, request.FILES)
    if not form.is_valid():
        return render(request, "hours/file.html", {"form": form}, status=422)
    content = form.cleaned_data["sheet"]
    return _previewed(request, content)


def hours_file_apply(request: HttpRequest) -> HttpResponse:
    form = ApplyForm(request.POST)
    form.fields["plan_sha256"].required = False
    if not form.is_valid():
        messages.error(request, NOT_THE_FILE)
        return redirect("hours_file")
    content, now = form.cleaned_data["content"], clock.now()
    signature = signature_of(request.user, now)
    try:
        hours = apply_hours(content, form.cleaned_data["sha256"], signature, now=now, among=Worker.objects.all())
    except Refused as refusal:
        for sentence in refusal.sentences[:3]:
            messages.error(request, sentence)
        return _previewed(request, content, 409)
    if hours.is_there:
        messages.info(request, "This file is imported already.")
    else:
        messages.success(request, f"Imported: {hours_words(sum(hours.minutes.values()))} on {len(hours.lines)} lines.")
    return redirect("hours")


def _previewed(request: HttpRequest, content: bytes, status: int = 0) -> HttpResponse:
    preview: HoursPreview = preview_hours(content, signature_of(request.user, clock.now()), Worker.objects.all())
    carried = {"content": base64.b64encode(content).decode(), "sha256": preview.sha256}
    context = {
        "form": FileForm(),
        "found": preview,
        "sums": [(name, hours_words(minutes)) for name, minutes in preview.minutes.items()],
        "apply": ApplyForm(initial=carried) if preview.lines and not preview.errors else None,
    }
    return render(request, "hours/file.html", context, status=status or (422 if preview.errors else 200))
