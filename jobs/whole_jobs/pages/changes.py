from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.document_reader import DocumentError
from jobs.jobs.models import Job
from jobs.jobs.pages.forms import JobForm, filled
from jobs.jobs.pages.requests import seen_version
from jobs.jobs.services.open_jobs import close_job, reopen_job
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.whole_jobs.services.job_entries import create_job, save_job_head
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import saved_words


def job_add(request: HttpRequest) -> HttpResponse:
    form = JobForm(request.POST if request.method == "POST" else None, {"crew": "2"})
    if request.method == "POST" and form.is_valid():
        try:
            job = create_job(form.document(), now=clock.now(), by=request.user)
        except DocumentError as error:
            form.complain(error)
        else:
            _keep_note(job, form.cleaned_data["note"])
            messages.success(request, f"{job.key} is open. Next: measure its first wall.")
            return redirect("job", job.pk)
    return render(request, "whole_jobs/change.html", {"form": form, "job": None}, status=form.status())


def _keep_note(job: Job, note: str) -> None:
    if note:
        save_job_head(job, {}, seen_version=None, note=note)


def job_change(request: HttpRequest, job_id: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    form = JobForm(request.POST if request.method == "POST" else None, filled(job))
    status = 200
    if request.method == "POST" and form.is_valid():
        try:
            save_job_head(
                job, form.whole_document(), seen_version=seen_version(request), note=form.cleaned_data["note"]
            )
        except DocumentError as error:
            form.complain(error)
        except ChangedMeanwhile as error:
            form.add_error(None, str(error))
            status = 409
        else:
            messages.success(request, saved_words(job.key, form))
            return redirect("job", job.pk)
    context = {"form": form, "job": job, "version": request.POST.get("seen_version", job.version)}
    return render(
        request, "whole_jobs/change.html", context, status=max(status, form.status()) if status == 200 else status
    )


def job_close(request: HttpRequest, job_id: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=job_id)
    try:
        if job.closed_on is None:
            close_job(job, day_at_the_firm(clock.now()), seen_version=seen_version(request))
            messages.success(request, f"{job.key} is closed: nothing of it asks for a hand any more.")
        else:
            reopen_job(job, seen_version=seen_version(request))
            messages.success(request, f"{job.key} is open again.")
    except ChangedMeanwhile as error:
        messages.error(request, str(error))
    return redirect("job", job.pk)
