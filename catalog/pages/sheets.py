"""The catalog as a sheet: out, in with a preview, and applied all or nothing."""

import base64
import binascii

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.services.csv_export import export_csv
from catalog.services.csv_import import Preview, apply_csv, preview_csv
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm

# The file goes back and forth inside the page, a third larger, and must stay under the limit of a request.
MOST_BYTES = 8 * 1024 * 1024


class SheetForm(forms.Form):
    sheet = forms.FileField(
        label="CSV file",
        help_text="UTF-8 with commas; the columns of a sheet taken out here, or some of them.",
        error_messages={
            "required": "Choose the file to bring in.",
            "empty": "The file is empty; choose one with a row of column names and at least one material.",
        },
    )

    def clean_sheet(self) -> bytes:
        sheet = self.cleaned_data["sheet"]
        if sheet.size > MOST_BYTES:
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
            raise forms.ValidationError("What came back is not the file that was previewed.") from error


def catalog_csv(request: HttpRequest) -> HttpResponse:
    response = HttpResponse(export_csv(), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="catalog-{day_at_the_firm(clock.now()).isoformat()}.csv"'
    return response


def catalog_csv_in(request: HttpRequest) -> HttpResponse:
    if request.method != "POST":
        return render(request, "catalog/csv_in.html", {"form": SheetForm(label_suffix="")})
    form = SheetForm(request.POST, request.FILES, label_suffix="")
    if not form.is_valid():
        return render(request, "catalog/csv_in.html", {"form": form}, status=422)
    content = form.cleaned_data["sheet"]
    return _previewed(request, content, preview_csv(content))


def catalog_csv_apply(request: HttpRequest) -> HttpResponse:
    form = ApplyForm(request.POST)
    if not form.is_valid():
        messages.error(request, "What came back is not the file that was previewed. Choose the file again.")
        return redirect("catalog_csv_in")
    content = form.cleaned_data["content"]
    try:
        done = apply_csv(content, form.cleaned_data["sha256"], form.cleaned_data["plan_sha256"])
    except (Refused, DocumentError) as refusal:
        messages.error(request, str(refusal))
        return _previewed(request, content, preview_csv(content), status=409)
    added, changed = len(done.added), len(done.changed)
    messages.success(request, f"Brought in: {added} added, {changed} changed, {len(done.unchanged)} left as they were.")
    return redirect("catalog")


def _previewed(request: HttpRequest, content: bytes, preview: Preview, status: int = 0) -> HttpResponse:
    carried = {
        "content": base64.b64encode(content).decode(),
        "sha256": preview.sha256,
        "plan_sha256": preview.plan_sha256,
    }
    context = {
        "preview": preview,
        "does_something": bool(preview.added or preview.changes),
        "apply": ApplyForm(initial=carried),
        "form": SheetForm(label_suffix=""),
    }
    return render(request, "catalog/csv_preview.html", context, status=status or (422 if preview.errors else 200))
