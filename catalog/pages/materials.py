from datetime import date
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.leads.lead_times import LeadTerm, term_in_force
from catalog.core.materials import specs
from catalog.core.materials.offers import had_from
from catalog.core.materials.specs import KINDS, PROPERTIES, ROLES
from catalog.models import Firm, Material, Supplier
from catalog.models.materials import SUPPLY_LABELS
from catalog.pages.material_forms import MaterialChangeForm, MaterialForm, material_entry
from catalog.pages.panels import panels
from catalog.pages.profile_card import card_sheet
from catalog.pages.words import (
    QUANTITY_UNITS,
    UNITS_USED,
    bare_unit_of,
    fact_rows,
    lead_words,
    percent_words,
    system_of,
)
from catalog.services import entries
from catalog.services.book import materials_with_parts
from catalog.services.missing import missing_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import EntryForm, entry_page
from quoting.platform.pages.stored_values import Stored, hold


def material(request: HttpRequest, material_id: int) -> HttpResponse:
    rows = materials_with_parts().select_related("supplier").prefetch_related("kit_entries")
    row = get_object_or_404(rows, pk=material_id)
    spec, today, firm = row.to_core(), day_at_the_firm(clock.now()), Firm.objects.first()
    context = {
        "row": row,
        "spec": spec,
        "kind": spec.kind_words,
        "supply": SUPPLY_LABELS[row.supply],
        "unit_used": UNITS_USED.get(row.unit_used, row.unit_used),
        "unit_short": QUANTITY_UNITS.get(row.unit_used, row.unit_used),
        "waste": percent_words(row.waste),
        "missing": missing_of(spec, today),
        "facts": fact_rows(spec, system_of(firm)),
        "card": card_sheet(spec, system_of(firm)) if row.kind == "trim" else None,
        "packs": _packs(row, today),
        "terms": _terms(spec),
        "term": term_in_force(spec.lead_terms, today),
        "offers": _offers(spec, today),
        "planned": panels["planned"](spec, today, request.GET),
        "roles": sorted({ROLES[entry.role][1] for entry in row.kit_entries.all()}),
        "firm": firm,
        "system": system_of(firm),
        "today": today,
        "currency": firm.currency if firm else "",
    }
    return render(request, "catalog/material.html", context)


def _packs(row: Material, today: date) -> list[Any]:
    """Each pack with its price in force, and all its prices, newest first."""
    sheets = []
    for pack in row.packs.all():
        spec = pack.to_core()
        newest_first = sorted(spec.prices, key=lambda price: price.starts_on, reverse=True)
        sheets.append((pack.pk, spec, spec.price_on(today), newest_first))
    return sheets


def _terms(spec: specs.Material) -> list[tuple[LeadTerm, str]]:
    # Of two said on one day the later written comes first, as it is the one that holds.
    placed = sorted(enumerate(spec.lead_terms), key=lambda pair: (pair[1].stated_on, pair[0]), reverse=True)
    return [(term, lead_words(term)) for _, term in placed]


def _offers(spec: specs.Material, today: date) -> list[Any]:
    """What other suppliers ask today: code, name, price of each pack, lead time in words."""
    names = dict(Supplier.objects.values_list("code", "name"))
    there = [(offer.supplier, had_from(spec, offer.supplier)) for offer in spec.offers]
    return [
        (
            code,
            names.get(code, code),
            [(pack.label, pack.price_on(today)) for pack in had.packs],
            lead_words(term) if (term := term_in_force(had.lead_terms, today)) else "",
        )
        for code, had in there
    ]


def material_add(request: HttpRequest) -> HttpResponse:
    form = MaterialForm(request.POST or None, initial={"supply": "stocked", "kind": request.GET.get("kind", "")})
    if form.saves(lambda: entries.add_material(form.entries(), bare_unit_of(Firm.objects.first()))):
        row = Material.objects.get(code=form.cleaned_data["code"])
        messages.success(request, f"Added: {row.name}. Enter below what it is bought in and what is known of it.")
        return redirect("material", row.pk)
    return entry_page(
        request, form, heading="New material", back=reverse("catalog"), back_label="Catalog", button="Add it"
    )


def material_change(request: HttpRequest, material_id: int) -> HttpResponse:
    row = material_row(material_id)
    form = MaterialChangeForm(request.POST or None, stored=Stored(material_entry(row), row, request.path))

    def save() -> None:
        entries.change_material(row.code, form.changes())

    return save_and_return(request, form, row, save, heading=f"Change {row.name}", saved="Saved.")


def material_set_active(request: HttpRequest, material_id: int) -> HttpResponse:
    active = request.POST.get("active", "")
    if active not in ("yes", "no"):
        raise Http404("Say whether the material is offered: yes or no.")
    row = entries.set_active(material_row(material_id).code, active == "yes")
    message = "is offered again where a material is chosen" if row.active else "is set aside: no longer offered"
    messages.success(request, f"{row.name} {message}. Jobs that use it keep it.")
    return redirect("material", row.pk)


def material_row(material_id: int) -> Material:
    hold(Material.objects.filter(pk=material_id))
    return get_object_or_404(Material.objects.select_related("supplier"), pk=material_id)


def property_or_404(row: Material, name: str) -> specs.Property:
    known = PROPERTIES.get(name)
    if known is None or row.kind not in known.kinds:
        raise Http404(f"A {KINDS[row.kind].lower()} has no figure of that name.")
    return known


def save_and_return(
    request: HttpRequest, form: EntryForm, row: Material, save: Any, *, heading: str, saved: str, **context: Any
) -> HttpResponse:
    """A form about one material: saved and back to its page, or shown again with what the core says."""
    if form.saves(save):
        messages.success(request, saved)
        return redirect("material", row.pk)
    back = {"back": reverse("material", args=[row.pk]), "back_label": row.name}
    return entry_page(request, form, heading=heading, **back, **context)
