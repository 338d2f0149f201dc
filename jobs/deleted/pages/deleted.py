"""What was deleted of a job, with a way back."""

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.refusal import Refused
from jobs.deleted.models import Deleted
from jobs.deleted.services.deleted import Deletion, deleted_of, may_put_back, put_back
from jobs.jobs.pages.requests import job_or_404
from quoting.platform import clock
from quoting.platform.people.access import role_of


def job_deleted(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    rows = deleted_of(job, role_of(request.user), clock.now())
    return render(request, "deleted/deleted.html", {"job": job, "rows": rows})


def job_put_back(request: HttpRequest, job_id: int, deleted_id: int) -> HttpResponse:
    row = get_object_or_404(Deleted, pk=deleted_id, job_id=job_id)
    if not may_put_back(row, role_of(request.user)):
        raise PermissionDenied
    try:
        put_back(row, Deletion(request.user.full_name, clock.now()))
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("job_deleted", job_id)
    messages.success(request, f"{row} is back as it was.")
    return redirect("job", job_id)
