"""Accepting the days the lead-time record suggests, and going back to what is quoted."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from catalog.core.ground.document_reader import Reader
from catalog.pages.materials import material_row
from catalog.services.planned_leads import accept_planned_lead, end_planned_lead, read_acceptance
from jobs.deliveries.services.lead_record import lead_receipts
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.step import step


def planned_accept(request: HttpRequest, material_id: int) -> HttpResponse:
    row, signature = material_row(material_id), signature_of(request.user, clock.now())
    given = {name: request.POST[name] for name in ("plan_workdays", "confidence") if request.POST.get(name)}

    def act() -> str:
        seen = read_acceptance(Reader(given))
        plan, _ = accept_planned_lead(row.code, seen, lead_receipts(signature.on), by=signature.by, on=signature.on)
        return f"{row.name} is planned with {plan.plan_workdays} working days from today on."

    return step(request, act, reverse("material", args=[row.pk]))


def planned_end(request: HttpRequest, material_id: int) -> HttpResponse:
    row, signature = material_row(material_id), signature_of(request.user, clock.now())
    if end_planned_lead(row.code, by=signature.by, on=signature.on) is not None:
        messages.success(request, f"{row.name} is planned with the quoted days again.")
    return redirect("material", row.pk)
