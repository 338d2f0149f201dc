"""Who leads a job and who is on its crew, as rows of fields."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from jobs.core.schedule.people import MAX_NAME
from jobs.jobs.pages.requests import job_or_404, seen_version
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.schedule.models import NamedPerson
from jobs.whole_jobs.services.job_entries import save_job_head
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import EntryForm, day, pick, text
from quoting.platform.pages.entry_rows import EntryRows
from quoting.platform.people.models import Person


class NamedPersonForm(EntryForm):
    name = text("Name", longest=MAX_NAME)
    part = pick("Part", [("crew", "crew"), ("lead", "lead")])
    first_day = day("From")
    last_day = day("To")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["name"].widget = forms.TextInput(attrs={"list": "names", "autocomplete": "off"})

    def is_filled(self) -> bool:
        return any(value for entry, value in self.entries().items() if entry != "part")


def job_people(request: HttpRequest, job_id: int) -> HttpResponse:
    job, status, conflict = job_or_404(job_id), 200, ""
    data = request.POST if request.method == "POST" else None
    stored = [write(person.to_core()) for person in job.people.all()]
    rows = EntryRows(NamedPersonForm, "people", data, stored, spare=1, more=request.POST.get("do") == "more")
    if request.method == "POST" and request.POST.get("do") != "more":
        status = 422
        try:
            if rows.is_valid():
                save_job_head(job, {"job": {"people": rows.entries()}}, seen_version=seen_version(request))
                count = job.people.count()
                messages.success(request, f"Saved: {count} {'person' if count == 1 else 'people'} on {job.key}.")
                return redirect("job_dates", job.pk)
        except DocumentError as error:
            _complain(rows, error)
        except ChangedMeanwhile as error:
            status, conflict = 409, str(error)
    context = {
        "job": job,
        "today": day_at_the_firm(clock.now()),
        "rows": rows,
        "conflict": conflict,
        "names": _names(),
        "version": request.POST.get("seen_version", job.version),
    }
    return render(request, "schedule/people.html", context, status=status)


def _complain(rows: EntryRows, error: DocumentError) -> None:
    for complaint in error.complaints:
        inner = type(complaint)(complaint.path.removeprefix("job."), complaint.reason)
        if not rows.takes(inner):
            rows.faults.append(str(complaint))


def _names() -> list[str]:
    """To choose from: who logs in, and who is named to an open job."""
    known = set(Person.objects.filter(is_active=True).values_list("full_name", flat=True))
    return sorted(known | set(NamedPerson.objects.filter(job__closed_on=None).values_list("name", flat=True)))
