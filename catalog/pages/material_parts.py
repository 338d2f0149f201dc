"""What is entered piece by piece on a material: figures, packs, prices, lead times."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.models import Firm, Material, Pack
from catalog.pages.material_forms import FigureForm, LeadTermForm, OfferForm, PackForm, PriceForm
from catalog.pages.materials import material_row, property_or_404, save_and_return
from catalog.pages.words import bare_unit_of
from catalog.services import entries, offers
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm

BECOMES_A_GAP = "From then on a job that needs this figure names it as missing, and gives no figure in its place."


def fact_set(request: HttpRequest, material_id: int, name: str) -> HttpResponse:
    row, firm = material_row(material_id), Firm.objects.first()
    known = property_or_404(row, name)
    fact = row.facts.filter(name=name).first()
    form = FigureForm.of(request, fact, known.unit, firm)

    def save() -> None:
        entries.set_fact(row.code, name, form.entries(), bare_unit_of(firm))

    context = {"heading": f"{known.label}: {row.name}", "saved": f"Stated: {known.label.lower()}."}
    if fact is not None:
        context |= {"remove": reverse("fact_remove", args=[row.pk, name]), "remove_says": BECOMES_A_GAP}
    return save_and_return(request, form, row, save, **context)


def fact_remove(request: HttpRequest, material_id: int, name: str) -> HttpResponse:
    row = material_row(material_id)
    label = property_or_404(row, name).label
    if entries.remove_fact(row.code, name):
        messages.success(request, f"{label} is no longer stated: a job that needs it will name it as missing.")
    return redirect("material", row.pk)


def pack_add(request: HttpRequest, material_id: int) -> HttpResponse:
    row, unit = material_row(material_id), bare_unit_of(Firm.objects.first())

    def add(document: dict[str, Any]) -> None:
        entries.add_pack(row.code, document, unit)

    return _add(request, row, PackForm, add, "Another way to buy {}", unit=row.unit_used)


def price_add(request: HttpRequest, material_id: int, pack_id: int) -> HttpResponse:
    row, firm = material_row(material_id), Firm.objects.first()
    pack = get_object_or_404(Pack, pk=pack_id, material=row)

    def add(document: dict[str, Any]) -> None:
        entries.set_price(row.code, pack.code, document)

    currency = firm.currency if firm else "the firm's currency"
    return _add(request, row, PriceForm, add, f"New price: {{}}, {pack.label}", pack=pack, currency=currency)


def lead_term_add(request: HttpRequest, material_id: int) -> HttpResponse:
    row = material_row(material_id)

    def add(document: dict[str, Any]) -> None:
        entries.add_lead_term(row.code, document)

    return _add(request, row, LeadTermForm, add, "New lead time: {}")


def offer_add(request: HttpRequest, material_id: int) -> HttpResponse:
    row = material_row(material_id)

    def add(document: dict[str, Any]) -> None:
        offers.add_offer(row.code, document)

    return _add(request, row, OfferForm, add, "{} from another supplier", material=row)


def _add(
    request: HttpRequest,
    row: Material,
    form_class: Any,
    add: Callable[[dict[str, Any]], None],
    heading: str,
    **options: Any,
) -> HttpResponse:
    """Something dated that is stated from today on, unless its form says another day."""
    today = day_at_the_firm(clock.now())
    form = form_class(request.POST or None, {"starts_on": today, "stated_on": today}, **options)
    return save_and_return(
        request, form, row, lambda: add(form.entries()), heading=heading.format(row.name), saved="Entered."
    )


def offer_prefer(request: HttpRequest, material_id: int) -> HttpResponse:
    row = material_row(material_id)
    try:
        offers.prefer(row.code, request.POST.get("supplier", ""))
    except DocumentError as error:
        messages.error(request, f"{error.complaints[0].reason}.")
    else:
        messages.success(request, "Preferred from now on: prices, lead times and dates follow.")
    return redirect("material", row.pk)
