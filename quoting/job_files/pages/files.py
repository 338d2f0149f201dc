"""Job files in and out."""

import json
import re

from django import forms
from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.document_reader import DocumentError, DocumentProblem, parse_document
from catalog.pages.firm_first import firm_first
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from quoting.job_files.services.job_files import export_job_file, import_job_file
from quoting.platform import clock
from quoting.platform.api.parsing import MAX_FILE
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.access import sees_margin

MAX_COMPLAINTS = 100


class ImportForm(forms.Form):
    file = forms.FileField(label="Job file")
    replace = forms.BooleanField(label="Replace the job with this key", required=False)


def job_import(request: HttpRequest) -> HttpResponse:
    form = ImportForm(request.POST or None, request.FILES or None, label_suffix="")
    complaints: list[DocumentProblem] = []
    if request.method == "POST" and form.is_valid():
        try:
            job = _import(request, form.cleaned_data["file"], form.cleaned_data["replace"])
        except DocumentError as error:
            complaints = list(error.complaints)
        except SurveyError as error:
            complaints = [DocumentProblem(error.field, error.reason)]
        else:
            messages.success(request, f"Imported: {job.key} {job.title}.")
            return redirect("job", job.pk)
    context = {
        "form": form,
        "complaints": complaints[:MAX_COMPLAINTS],
        "count": len(complaints),
        "sets_prices": sees_margin(request),
    }
    return render(request, "jobs/import.html", context, status=422 if complaints or form.errors else 200)


def _import(request: HttpRequest, file: UploadedFile, replace: bool) -> Job:
    on_known = "replace" if replace else "refuse"
    return import_job_file(
        _document(file),
        now=clock.now(),
        by=request.user,
        on_known=on_known,
        with_pricing=sees_margin(request),
    )


def _document(file: UploadedFile) -> dict[str, object]:
    if file.size is None or file.size > MAX_FILE:
        raise DocumentError.at("", f"{file.name} is larger than 10 MB; a job file is a few hundred kilobytes at most")
    try:
        text = file.read().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise DocumentError.at("", f"{file.name} is not UTF-8 text (byte {error.start}); save it as UTF-8") from error
    return parse_document(text)


@firm_first
def job_export(request: HttpRequest, job_id: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=job_id)
    try:
        document = export_job_file(job, day_at_the_firm(clock.now()), with_pricing=sees_margin(request))
    except DocumentError as error:
        messages.error(request, str(error))
        return redirect("job", job.pk)
    text = json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    response = HttpResponse(text, content_type="application/json; charset=utf-8")
    name = re.sub(r"[^A-Za-z0-9._-]+", "-", job.key).strip("-.") or "job"
    response["Content-Disposition"] = f'attachment; filename="{name}.json"'
    response["Cache-Control"] = "no-store"
    return response
