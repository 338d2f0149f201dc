from dataclasses import dataclass
from datetime import date
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.leads.lead_times import LeadTerm, term_in_force
from catalog.core.materials import specs
from catalog.core.materials.offers import had_from
from catalog.core.materials.specs import KINDS, PROPERTIES, ROLES, Price
from catalog.models import Firm, Material, Supplier
from catalog.models.materials import SUPPLY_LABELS
from catalog.pages.material_forms import MaterialChangeForm, MaterialForm, SetAsideForm, material_entry
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


@dataclass(frozen=True)
class PackSheet:
    """A pack with its prices, newest first, each said to be past, in force or to come."""

    id: int
    spec: specs.Pack
    in_force: Price | None
    prices: tuple[tuple[Price, str], ...]


@dataclass(frozen=True)
class TermLine:
    term: LeadTerm
    words: str
    in_force: bool


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
        "terms": _terms(spec, today),
        "offers": _offers(spec, today),
        "planned": panels["planned"](spec, today, request.GET),
        "roles": sorted({ROLES[entry.role][1] for entry in row.kit_entries.all()}),
        "firm": firm,
        "system": system_of(firm),
        "currency": firm.currency if firm else "",
    }
    return render(request, "catalog/material.html", context)


def _packs(row: Material, today: date) -> list[PackSheet]:
    sheets = []
    for pack in row.packs.all():
        spec = pack.to_core()
        in_force = spec.price_on(today)
        newest_first = sorted(spec.prices, key=lambda price: price.starts_on, reverse=True)
        prices = tuple((price, _standing(price, in_force, today)) for price in newest_first)
        sheets.append(PackSheet(pack.pk, spec, in_force, prices))
    return sheets


def _standing(price: Price, in_force: Price | None, today: date) -> str:
    if price == in_force:
        lapsed = price.held_until is not None and price.held_until < today
        return "in force, no longer held" if lapsed else "in force"
    return "to come" if price.starts_on > today else "past"


def _terms(spec: specs.Material, today: date) -> list[TermLine]:
    in_force = term_in_force(spec.lead_terms, today)
    # Of two said on one day the later written comes first, as it is the one that holds.
    placed = sorted(enumerate(spec.lead_terms), key=lambda pair: (pair[1].stated_on, pair[0]), reverse=True)
    return [TermLine(term, lead_words(term), term is in_force) for _, term in placed]


@dataclass(frozen=True)
class OfferLine:
    """What another supplier asks today. prices: pack and price, None without one. lead: in words, empty without any."""

    code: str
    name: str
    prices: tuple[tuple[str, Price | None], ...]
    lead: str


def _offers(spec: specs.Material, today: date) -> list[OfferLine]:
    names = dict(
        Supplier.objects.filter(code__in=[entry.supplier for entry in spec.offers]).values_list("code", "name")
    )
    offers = []
    for offer in spec.offers:
        there = had_from(spec, offer.supplier)
        term = term_in_force(there.lead_terms, today)
        prices = tuple((pack.label, pack.price_on(today)) for pack in there.packs)
        name = names.get(offer.supplier, offer.supplier)
        offers.append(OfferLine(offer.supplier, name, prices, lead_words(term) if term else ""))
    return offers


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
    form = SetAsideForm(request.POST)
    if not form.is_valid():
        raise Http404("Say whether the material is offered: yes or no.")
    row = entries.set_active(material_row(material_id).code, form.cleaned_data["active"] == "yes")
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
