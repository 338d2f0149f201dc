"""The rates of taxes and labour, each by the day it starts."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.document_reader import DocumentError
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.document_fields import share_text
from quoting.platform.pages.entry_form import EntryForm, day, pick, text
from quoting.pricing.models import LabourRate, TaxRate
from quoting.pricing.models.tax import TAX_BASIS_CHOICES, TAXED_PART_CHOICES, WORKSHEET
from quoting.pricing.services import taxes


class TaxRateForm(EntryForm):
    name = text("Tax", "As papers call it.", longest=60)
    rate = text("Rate, %", longest=20)
    applies_to = pick("Charged on", TAXED_PART_CHOICES)
    basis = pick("Rounding", TAX_BASIS_CHOICES)
    starts_on = day("In force from")

    def entries(self) -> dict[str, object]:
        document = super().entries()
        return document | ({"rate": share_text(document["rate"])} if "rate" in document else {})


class LabourRateForm(EntryForm):
    """A rate, or the worksheet it comes from."""

    name = text("Work", "Such as: framing, finishing.", longest=100)
    starts_on = day("In force from")
    rate = text("Cost an hour", "Burden included. Empty: worked out from the rest.", longest=20)
    wage = text("Wage an hour", longest=20)
    payroll_tax_rate = text("Taxes on wages, %", longest=20)
    insurance_rate = text("Insurance on wages, %", longest=20)
    health_per_year = text("Health, a year", longest=20)
    other_per_year = text("Other, a year", longest=20)
    paid_hours = text("Hours paid, a year", longest=20)
    unproductive_hours = text("Of these not on jobs", "Holidays, sickness, training, the yard.", longest=20)

    def entries(self) -> dict[str, object]:
        document = super().entries()
        shares = {
            name: share_text(document[name]) for name in ("payroll_tax_rate", "insurance_rate") if name in document
        }
        sheet = {name: document.pop(name) for name in WORKSHEET if name in document} | shares
        return {name: entry for name, entry in document.items() if name not in WORKSHEET} | (
            {"worksheet": sheet} if sheet else {}
        )

    stands_at = {f"worksheet.{name}": name for name in WORKSHEET} | {"worksheet": "wage"}


def rates(request: HttpRequest) -> HttpResponse:
    return _rates_page(request, _tax_form(), _labour_form())


def tax_rate_set(request: HttpRequest) -> HttpResponse:
    form = _tax_form(request)
    if form.is_valid():
        try:
            taxes.set_tax_rate(form.entries())
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, "The tax rate is entered.")
            return redirect("rates")
    return _rates_page(request, form, _labour_form(), status=422)


def labour_rate_set(request: HttpRequest) -> HttpResponse:
    form = _labour_form(request)
    if form.is_valid():
        try:
            taxes.set_labour_rate(form.entries())
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, "The labour rate is entered.")
            return redirect("rates")
    return _rates_page(request, _tax_form(), form, status=422)


def tax_rate_remove(request: HttpRequest, rate_id: int) -> HttpResponse:
    return _removed(request, taxes.remove_tax_rate(rate_id))


def labour_rate_remove(request: HttpRequest, rate_id: int) -> HttpResponse:
    return _removed(request, taxes.remove_labour_rate(rate_id))


def _removed(request: HttpRequest, result: bool) -> HttpResponse:
    if not result:
        raise Http404("There is no such rate.")
    messages.success(request, "The rate is taken away. Quotes already issued keep theirs.")
    return redirect("rates")


def _tax_form(request: HttpRequest | None = None) -> TaxRateForm:
    return TaxRateForm(request.POST if request else None, {"starts_on": day_at_the_firm(clock.now())}, prefix="tax")


def _labour_form(request: HttpRequest | None = None) -> LabourRateForm:
    return LabourRateForm(
        request.POST if request else None, {"starts_on": day_at_the_firm(clock.now())}, prefix="labour"
    )


def _rates_page(
    request: HttpRequest, tax_form: TaxRateForm, labour_form: LabourRateForm, status: int = 200
) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    in_force = {row.pk for row in taxes.taxes_in_force(today)}
    labour_in_force = {row.pk for row in taxes.labour_rates_in_force(today)}
    context = {
        "taxes": [
            (row, row.pk in in_force, row.starts_on > today) for row in TaxRate.objects.order_by("name", "-starts_on")
        ],
        "labour": [
            (row, row.pk in labour_in_force, row.starts_on > today)
            for row in LabourRate.objects.order_by("name", "-starts_on")
        ],
        "tax_form": tax_form,
        "labour_form": labour_form,
    }
    return render(request, "pricing/rates.html", context, status=status)
