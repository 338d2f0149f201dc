"""The register of templates of a job, on a desk and on a phone. No money and no supplier in here."""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode

from catalog.core.ground.document_reader import DocumentError
from jobs.core.schedule.job_spec import JobSpec
from jobs.core.takeoff.held_templates import STATE_WORDS, needs_template, template_for, template_holds
from jobs.held_templates.models import HeldTemplate
from jobs.held_templates.pages.forms import MoveForm, TemplateChangeForm, TemplateForm
from jobs.held_templates.services.templates import add_template, change_template, move_template
from jobs.jobs.models import Job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.pages.entry_form import entry_page
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people import access


@dataclass(frozen=True)
class Waiting:
    """A run of trim made to a template: its template, or the sentence that says why it may not be ordered."""

    wall_key: str
    wall: str
    run: str
    template: str
    blocked: str
    enter: str


@dataclass(frozen=True)
class TemplateLine:
    row: HeldTemplate
    wall: str
    state: str
    kept_at: str
    is_lost: bool


def templates(request: HttpRequest, job_id: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    spec, today = job.to_core(), day_at_the_firm(clock.now())
    first = {"traced_by": request.user.full_name, "traced_on": today, "place": request.GET.get("for", "")}
    form = TemplateForm(request.POST or None, spec.walls, first)
    if request.method == "POST" and form.is_valid():
        try:
            row = add_template(job, form.document(), signature_of(request.user, clock.now()))
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, f"Entered: template {row.name}.")
            return redirect("templates", job.pk)
    context = {
        "job": job,
        "today": today,
        "form": form,
        "waiting": waiting_in(job, spec),
        "lines": _lines(job, spec),
        "can_enter": access.is_allowed(access.role_of(request.user), "templates", "POST"),
    }
    return render(request, "held_templates/list.html", context, status=form.status())


def waiting_in(job: Job, spec: JobSpec) -> list[Waiting]:
    """Every run that is made to a template, the blocked ones first."""
    rows = []
    for wall in spec.walls:
        held = {hold.line: hold.finding for hold in template_holds(wall, spec.templates)}
        for number, run in enumerate(wall.trims, start=1):
            if not needs_template(wall, run):
                continue
            hold, template = held.get(f"{wall.key}/trim-{number}"), template_for(wall, run, spec.templates)
            enter = f"{reverse('templates', args=[job.pk])}?{urlencode({'for': f'{wall.key}|{run.name}'})}#enter"
            blocked = hold.sentence if hold else ""
            rows.append(Waiting(wall.key, wall.name, run.name, template.name if template else "", blocked, enter))
    return sorted(rows, key=lambda row: not row.blocked)


def _lines(job: Job, spec: JobSpec) -> list[TemplateLine]:
    names = {wall.key: wall.name for wall in spec.walls}
    return [
        TemplateLine(
            row,
            names.get(row.wall_key, f"{row.wall_key}, no longer a wall of this job"),
            STATE_WORDS[template.state],
            template.kept_at,
            not template.is_there,
        )
        for row, template in zip(job.templates.all(), spec.templates, strict=True)
    ]


def template(request: HttpRequest, job_id: int, template_id: int) -> HttpResponse:
    row = template_or_404(job_id, template_id)
    spec, today = row.to_core(), day_at_the_firm(clock.now())
    first = {"state": spec.state, "kept_at": spec.kept_at, "on": today}
    form = MoveForm(request.POST or None, first)
    if request.method == "POST" and form.is_valid():
        try:
            move_template(row, form.entries(), signature_of(request.user, clock.now()))
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, f"Entered: {row.name} is {STATE_WORDS[form.cleaned_data['state']]}.")
            return redirect("template", job_id, row.pk)
    wall = row.job.walls.filter(key=row.wall_key).first()
    context = {
        "job": row.job,
        "row": row,
        "spec": spec,
        "wall": wall,
        "state": STATE_WORDS[spec.state],
        "form": form,
        "today": today,
        "moves": [(move, STATE_WORDS[move.state]) for move in reversed(spec.moves)],
    }
    return render(request, "held_templates/one.html", context, status=form.status())


def template_change(request: HttpRequest, job_id: int, template_id: int) -> HttpResponse:
    hold(HeldTemplate.objects.filter(pk=template_id))
    row = template_or_404(job_id, template_id)
    entered: dict[str, Any] = {
        "name": row.name,
        "place": f"{row.wall_key}|{row.line}",
        "shape": row.shape,
        "piece": row.piece or "",
        "traced_by": row.traced_by,
        "traced_on": row.traced_on,
    }
    form = TemplateChangeForm(request.POST or None, row.job.to_core().walls, stored=Stored(entered, row, request.path))
    if request.method == "POST" and form.is_valid():
        try:
            change_template(row, form.document(), signature_of(request.user, clock.now()))
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, f"Saved: template {row.name}.")
            return redirect("template", job_id, row.pk)
    back = reverse("template", args=[job_id, row.pk])
    return entry_page(request, form, heading=f"Correct template {row.name}", back=back, back_label=row.name)


def template_or_404(job_id: int, template_id: int) -> HeldTemplate:
    return get_object_or_404(HeldTemplate.objects.select_related("job__client"), pk=template_id, job_id=job_id)
