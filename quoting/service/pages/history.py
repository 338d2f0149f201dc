from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from catalog.models import Material
from jobs.jobs.models import Job
from quoting.platform.people.access import BUYERS, role_of, sees_margin, sees_suppliers
from quoting.service.services.agreement_history import agreement_changes
from quoting.service.services.change_history import Change, job_changes, material_changes
from quoting.service.services.cost_history import bill_changes, hour_changes
from quoting.service.services.history_lines import by_day, pages_of, saves_of


def material_history(request: HttpRequest, material_id: int) -> HttpResponse:
    row = get_object_or_404(Material, pk=material_id)
    shown = {"name": row.name, "back": reverse("material", args=[row.pk])}
    return _history_page(request, material_changes(row), shown)


def job_history(request: HttpRequest, job_id: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    changes = [
        *job_changes(job, with_margin=sees_margin(request)),
        *agreement_changes(job, with_requests=role_of(request.user) in BUYERS),
        *bill_changes(job),
        *hour_changes(job, with_rates=sees_margin(request)),
    ]
    changes.sort(key=lambda change: (change.when, change.order), reverse=True)
    shown = {"job": job, "name": job.title, "back": reverse("job", args=[job.pk])}
    return _history_page(request, changes, {**shown, "has_deleted": sees_suppliers(request)})


def _history_page(request: HttpRequest, changes: list[Change], shown: dict[str, Any]) -> HttpResponse:
    pages = pages_of(list(saves_of(changes)))
    number = _page_number(request.GET.get("page", ""), len(pages))
    days = {
        "days": by_day(pages[number - 1]),
        "changes": changes,
        "page": number,
        "opened": request.GET.get("save", ""),
        "later": number - 1,
        "earlier": number + 1 if number < len(pages) else 0,
    }
    return render(request, "service/history.html", {**shown, **days})


def _page_number(typed: str, last: int) -> int:
    """The first page for anything that is no page."""
    is_number = typed.isascii() and typed.isdigit() and len(typed) < 10
    return min(max(int(typed), 1), last) if is_number else 1
