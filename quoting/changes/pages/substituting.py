"""Another item in the place of one: chosen, priced as a change note, followed until the client has signed."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.models import Material
from catalog.pages.firm_first import firm_first
from catalog.services.book import NoFirmYet
from jobs.deliveries.pages.order_events_forms import SubstitutionForm
from jobs.deliveries.services.replacements import NeedCheck, need_check
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.orders.models import OrderLine
from quoting.changes.models import Substitution
from quoting.changes.services.substitutions import substitute, substitutions_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm
from quoting.platform.people.access import sees_margin


@firm_first
def substitutions(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    line = _line_asked(request, job)
    form, status = _form(request, job, line), 200
    moment = moment_at_the_firm(now)
    if request.method == "POST" and sees_margin(request) and form.is_valid():
        today = day_at_the_firm(now)
        try:
            row, _ = substitute(job, form.entries(), by=request.user, now=now, today=today, line=line)
            return redirect("change_draft", row.draft_id)
        except DocumentError as error:
            form.complain(error)
            status = 422
        except Refused as refusal:
            form.add_error(None, str(refusal))
            status = 409
    rows = [(one, _standing(one), _check(one, moment)) for one in substitutions_of(job)]
    context = {
        "job": job,
        "line": line,
        "form": form,
        "rows": rows,
        "editable": sees_margin(request),
        "back": reverse("change_list", args=[job.pk]),
    }
    return render(request, "changes/substitutions.html", context, status=status)


def _line_asked(request: HttpRequest, job: Job) -> OrderLine | None:
    typed = request.GET.get("line", "")
    if not (typed.isascii() and typed.isdigit() and len(typed) < 10):
        return None
    return get_object_or_404(OrderLine.objects.select_related("order", "material"), pk=int(typed), job=job)


def _form(request: HttpRequest, job: Job, line: OrderLine | None) -> SubstitutionForm:
    materials = Material.objects.filter(active=True).order_by("kind", "name")
    form = SubstitutionForm(request.POST or None)
    if line is not None:
        materials = materials.filter(kind=line.material.kind).exclude(pk=line.material.pk)
        del form.fields["material"]
    choices = [(one.code, f"{one.name} ({one.code})") for one in materials]
    form.fields["instead"].choices = choices  # type: ignore[attr-defined]
    if line is None:
        needed = [(one.material, f"{one.name} ({one.material})") for one in job.needs.all()]
        form.fields["material"].choices = needed  # type: ignore[attr-defined]
    return form


def _standing(row: Substitution) -> str:
    if row.note is not None:
        return str(row.note.get_state_display())
    return "Being priced" if row.draft is not None else "Its draft was taken away"


def _check(row: Substitution, moment: Any) -> NeedCheck | None:
    """Whether the other item would come in time, for as long as nobody has ordered it."""
    need = row.job.needs.filter(material=row.material_id).first()
    need_by = row.line.need_by if row.line else need.need_by if need else None
    try:
        return need_check(row.job, row.instead, need_by, order_day=moment.date(), placed_at=moment.time())
    except NoFirmYet:
        return None
