from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from catalog.models import Material
from jobs.jobs.models import Job
from quoting.platform.people.access import sees_margin, sees_suppliers
from quoting.service.services.agreement_history import agreement_changes
from quoting.service.services.change_history import Change, job_changes, material_changes

A_PAGE = 60


def material_history(request: HttpRequest, material_id: int) -> HttpResponse:
    row = get_object_or_404(Material, pk=material_id)
    return history_page(request, row.name, material_changes(row), reverse("material", args=[row.pk]))


def job_history(request: HttpRequest, job_id: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=job_id)
    changes = job_changes(job, with_margin=sees_margin(request))
    return history_page(
        request,
        f"{job.key} {job.title}",
        sorted([*changes, *agreement_changes(job)], key=lambda change: (change.when, change.order), reverse=True),
        reverse("job", args=[job.pk]),
        deleted_url=reverse("job_deleted", args=[job.pk]) if sees_suppliers(request) else "",
    )


def history_page(
    request: HttpRequest, name: str, changes: list[Change], back: str, deleted_url: str = ""
) -> HttpResponse:
    page = Paginator(changes, A_PAGE).get_page(request.GET.get("page"))
    return render(
        request, "service/history.html", {"name": name, "page": page, "back": back, "deleted_url": deleted_url}
    )
