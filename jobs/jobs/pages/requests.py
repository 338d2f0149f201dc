"""The job a page is asked for, and the version of it that was seen."""

from django.http import HttpRequest
from django.shortcuts import get_object_or_404

from jobs.jobs.models import Job


def job_or_404(job_id: int) -> Job:
    return get_object_or_404(Job.objects.select_related("client"), pk=job_id)


def seen_version(request: HttpRequest) -> int:
    """The version the page was made from; 0, which no row has, when the form does not say."""
    typed = request.POST.get("seen_version", "")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else 0
