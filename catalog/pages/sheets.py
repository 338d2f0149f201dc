"""The catalog as sheets: out, in with a preview, and applied all or nothing."""

import base64
import binascii
from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.services.known_sheets import MATERIALS, SHEETS, Sheet
from catalog.services.sheets.previews import NOT_THE_FILE, Preview
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm

# The file goes back and forth inside the page, a third larger, and must stay under the limit of a request.
MAX_BYTES = 8 * 1024 * 1024


class SheetForm(forms.Form):
    sheet = forms.FileField(
        label="CSV file",
        help_text="UTF-8 with commas; the columns of a sheet taken out here, or some of them.",
        error_messages={
            "required": "Choose the file to import.",
            "empty": "The file is empty; choose one with a row of column names and at least one row.",
        },
    )

    def clean_sheet(self) -> bytes:
        sheet = self.cleaned_data["sheet"]
        if sheet.size > MAX_BYTES:
            raise forms.ValidationError(f"The file is {sheet.size / 1024 / 1024:.1f} MB; at most 8 MB can be read.")
        content: bytes = sheet.read()
        return content


class ApplyForm(forms.Form):
    content = forms.CharField(widget=forms.HiddenInput)
    sha256 = forms.CharField(widget=forms.HiddenInput, max_length=64)
    plan_sha256 = forms.CharField(widget=forms.HiddenInput, max_length=64)

    def clean_content(self) -> bytes:
        try:
            return base64.b64decode(self.cleaned_data["content"], validate=True)
        except (binascii.Error, ValueError) as error:
            raise forms.ValidationError(NOT_THE_FILE) from error


def catalog_csv(request: HttpRequest, name: str = MATERIALS) -> HttpResponse:
    response = HttpResponse(_known(name).export(), content_type="text/csv; charset=utf-8")
    day = day_at_the_firm(clock.now()).isoformat()
    response["Content-Disposition"] = f'attachment; filename="{"catalog" if name == MATERIALS else name}-{day}.csv"'
    return response


def catalog_csv_in(request: HttpRequest, name: str = MATERIALS) -> HttpResponse:
    about = {**_about(name), "sheets": [(_address("in", text), sheet.label) for text, sheet in SHEETS.items()]}
    if request.method != "POST":
        return render(request, "catalog/csv_in.html", {"form": SheetForm(label_suffix=""), **about})
    form = SheetForm(request.POST, request.FILES, label_suffix="")
    if not form.is_valid():
        return render(request, "catalog/csv_in.html", {"form": form, **about}, status=422)
    content = form.cleaned_data["sheet"]
    return _previewed(request, name, content, _known(name).preview(content))


def catalog_csv_apply(request: HttpRequest, name: str = MATERIALS) -> HttpResponse:
    form, sheet = ApplyForm(request.POST), _known(name)
    if not form.is_valid():
        messages.error(request, NOT_THE_FILE)
        return redirect(_address("in", name))
    content = form.cleaned_data["content"]
    try:
        preview = sheet.apply(content, form.cleaned_data["sha256"], form.cleaned_data["plan_sha256"])
    except (Refused, DocumentError) as refusal:
        messages.error(request, str(refusal))
        return _previewed(request, name, content, sheet.preview(content), status=409)
    counts = [
        f"{len(preview.added)} added",
        f"{len(preview.changed)} changed",
        f"{len(preview.unchanged)} left as they were",
    ]
    counts += [f"{len(preview.removed)} deleted"] if preview.removed else []
    messages.success(request, f"Imported: {', '.join(counts)}.")
    return redirect("catalog" if name == MATERIALS else _address("in", name))


def _about(name: str) -> dict[str, Any]:
    return {"sheet": _known(name), **{f"{way}_url": _address(way, name) for way in ("out", "in", "apply")}}


def _address(way: str, name: str) -> str:
    ending = {"out": "csv", "in": "csv_in", "apply": "csv_apply"}[way]
    return reverse(f"catalog_{ending}") if name == MATERIALS else reverse(f"sheet_{ending}", args=[name])


def _known(name: str) -> Sheet:
    if name not in SHEETS:
        raise Http404("There is no such sheet.")
    return SHEETS[name]


def _previewed(request: HttpRequest, name: str, content: bytes, preview: Preview, status: int = 0) -> HttpResponse:
    carried = {
        "content": base64.b64encode(content).decode(),
        "sha256": preview.sha256,
        "plan_sha256": preview.plan_sha256,
    }
    context = {
        **_about(name),
        "preview": preview,
        "does_something": bool(preview.added or preview.changes or preview.removed),
        "apply": ApplyForm(initial=carried),
        "form": SheetForm(label_suffix=""),
    }
    return render(request, "catalog/csv_preview.html", context, status=status or (422 if preview.errors else 200))
