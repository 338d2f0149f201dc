"""Another item in the place of one: chosen, priced as a change note, followed until the client has signed."""

from datetime import date
from typing import Any

from django.forms import ChoiceField, RadioSelect
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.money import to_cents
from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import System, format_measure
from catalog.models import Firm, Material
from catalog.pages.firm_first import firm_first
from catalog.pages.words import QUANTITY_UNITS, system_of
from catalog.services.book import NoFirmYet
from jobs.deliveries.services.replacements import NeedCheck, need_check
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.orders.models import OrderLine
from quoting.changes.models import Substitution
from quoting.changes.services.stand_ins import Choices, Offered, choices_of
from quoting.changes.services.substitutions import substitute, substitutions_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm
from quoting.platform.formatting import amount_words
from quoting.platform.pages.entry_form import NOT_ONE, EntryForm, text


class SubstitutionForm(EntryForm):
    instead = ChoiceField(label="Take", widget=RadioSelect, error_messages={"invalid_choice": NOT_ONE})
    reason = text("Why", "The client reads it.", rows=3)


@firm_first
def substitutions(request: HttpRequest, job_id: int) -> HttpResponse:
    job, now = job_or_404(job_id), clock.now()
    line, today = _line_asked(request, job), day_at_the_firm(now)
    material = line.material_id if line else request.GET.get("material", "")
    choices, faults = _choices(job, material, today)
    form, status = _form(request, choices), 200
    if request.method == "POST" and material and form.is_valid():
        try:
            entered = {**form.entries(), "material": material}
            row, _ = substitute(job, entered, by=request.user, now=now, today=today, line=line)
            return redirect("change_draft", row.draft_id)
        except DocumentError as error:
            form.complain(error)
            status = 422
        except Refused as refusal:
            form.add_error(None, str(refusal))
            status = 409
    moment = moment_at_the_firm(now)
    context = {
        "job": job,
        "material": material,
        "named": Material.objects.filter(code=material).first(),
        "needs": job.needs.order_by("name"),
        "choices": choices,
        "faults": faults,
        "form": form,
        "rows": [
            (substitution, _standing(substitution), _check(substitution, moment))
            for substitution in substitutions_of(job)
        ],
        "back": reverse("change_list", args=[job.pk]),
    }
    return render(request, "changes/substitutions.html", context, status=status)


def _choices(job: Job, material: str, today: date) -> tuple[Choices | None, tuple[str, ...]]:
    """What may take its place, None while no material is asked about; and why that cannot be said."""
    try:
        return (choices_of(job, material, today) if material else None), ()
    except Refused as refusal:
        return None, (str(refusal),)
    except DocumentError as error:
        return None, tuple(complaint.reason for complaint in error.complaints)


def _line_asked(request: HttpRequest, job: Job) -> OrderLine | None:
    typed = request.GET.get("line", "")
    if not (typed.isascii() and typed.isdigit() and len(typed) < 10):
        return None
    return get_object_or_404(OrderLine.objects.select_related("order", "material"), pk=int(typed), job=job)


def _form(request: HttpRequest, choices: Choices | None) -> SubstitutionForm:
    form = SubstitutionForm(request.POST or None)
    offered = choices.offered if choices else ()
    system = system_of(Firm.objects.first())
    labels = [(entry.material.code, f"{entry.material.name}: {_facts(entry, system)}") for entry in offered]
    form.fields["instead"].choices = labels  # type: ignore[attr-defined]
    return form


def _facts(offered: Offered, system: System) -> str:
    unit = QUANTITY_UNITS.get(offered.material.unit_used, offered.material.unit_used)
    price = "no price" if offered.price is None else f"{amount_words(to_cents(offered.price))} a {unit}"
    limit = offered.stand_in.least_radius_mm
    bends = f"bends to {format_measure(limit, system)}" if limit else "nothing to bend"
    days = offered.lead_workdays
    lead = "no lead time" if days is None else f"{days} working day{'' if days == 1 else 's'}"
    return f"{price}, {bends}, {lead}"


def _standing(row: Substitution) -> str:
    if row.note is not None:
        return str(row.note.get_state_display())
    return "Being priced" if row.draft is not None else "Draft deleted"


def _check(row: Substitution, moment: Any) -> NeedCheck | None:
    """Whether the other item would come in time, for as long as nobody has ordered it."""
    need = row.job.needs.filter(material=row.material_id).first()
    need_by = row.line.need_by if row.line else need.need_by if need else None
    try:
        return need_check(row.job, row.instead, need_by, order_day=moment.date(), placed_at=moment.time())
    except NoFirmYet:
        return None
