"""The room of a job's walls opens on its first wall; where there is none, on a new one."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from jobs.jobs.pages.requests import job_or_404
from quoting.platform.people import access


def job_walls(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    first = job.walls.first()
    if first is not None:
        return redirect("wall", job.pk, first.key)
    return redirect("wall_add" if access.is_allowed(access.role_of(request.user), "wall_add", "GET") else "job", job.pk)
