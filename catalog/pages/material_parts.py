"""What is entered piece by piece on a material: figures, packs, prices, lead times."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.models import Firm, Pack
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
    row, firm = material_row(material_id), Firm.objects.first()
    form = PackForm(request.POST or None, initial={"starts_on": day_at_the_firm(clock.now())}, unit=row.unit_used)

    def save() -> None:
        entries.add_pack(row.code, form.entries(), bare_unit_of(firm))

    heading = f"Another way to buy {row.name}"
    return save_and_return(request, form, row, save, heading=heading, saved="Added.", button="Add it")


def price_add(request: HttpRequest, material_id: int, pack_id: int) -> HttpResponse:
    row, firm = material_row(material_id), Firm.objects.first()
    pack = get_object_or_404(Pack, pk=pack_id, material=row)
    currency = firm.currency if firm else "the firm's currency"
    form = PriceForm(
        request.POST or None, initial={"starts_on": day_at_the_firm(clock.now())}, pack=pack, currency=currency
    )

    def save() -> None:
        entries.set_price(row.code, pack.code, form.entries())

    says = (
        "A price given for a day that has one already takes its place; the history keeps both.",
        "Quotes already issued keep the prices they were worked out with.",
    )
    heading = f"New price: {row.name}, {pack.label}"
    return save_and_return(request, form, row, save, heading=heading, saved="The price is entered.", says=says)


def lead_term_add(request: HttpRequest, material_id: int) -> HttpResponse:
    row = material_row(material_id)
    form = LeadTermForm(request.POST or None, initial={"stated_on": day_at_the_firm(clock.now())})

    def save() -> None:
        entries.add_lead_term(row.code, form.entries())

    who = row.supplier.name if row.supplier else "the supplier"
    says = (f"Enter what {who} says; order dates of every open job follow it at once.",)
    heading = f"New lead time: {row.name}"
    return save_and_return(request, form, row, save, heading=heading, saved="The lead time is entered.", says=says)


def offer_add(request: HttpRequest, material_id: int) -> HttpResponse:
    row = material_row(material_id)
    form = OfferForm(request.POST or None, initial={"starts_on": day_at_the_firm(clock.now())}, material=row)

    def save() -> None:
        offers.add_offer(row.code, form.entries())

    heading = f"{row.name} from another supplier"
    says = ("Enter a price, a lead time, or both. Jobs have it from the preferred supplier unless they say otherwise.",)
    return save_and_return(request, form, row, save, heading=heading, saved="The offer is entered.", says=says)


def offer_prefer(request: HttpRequest, material_id: int) -> HttpResponse:
    row = material_row(material_id)
    try:
        offers.prefer(row.code, request.POST.get("supplier", ""))
    except DocumentError as error:
        messages.error(request, f"{error.complaints[0].reason}.")
    else:
        messages.success(request, "Preferred from now on: prices, lead times and dates follow.")
    return redirect("material", row.pk)
