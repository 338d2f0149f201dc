"""The rates of taxes and labour, each by the day it starts."""

from datetime import date
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.declared_fields import form_field, form_of
from quoting.platform.pages.entry_form import EntryForm
from quoting.pricing.models import LabourRate, TaxRate
from quoting.pricing.models.tax import TAX_BASIS_CHOICES, TAXED_PART_CHOICES, WORKSHEET
from quoting.pricing.services import taxes
from quoting.pricing.services.taxes import NewLabourRate, NewTaxRate, Worksheet

TAX_WORDS = {"applies_to": dict(TAXED_PART_CHOICES), "basis": dict(TAX_BASIS_CHOICES)}


TaxRateForm = form_of(NewTaxRate, "name", "rate", "applies_to", "basis", "starts_on", words=TAX_WORDS)


class LabourRateForm(form_of(NewLabourRate, "name", "starts_on", "rate")):
    """A rate, or the worksheet it comes from."""

    stands_at = {f"worksheet.{name}": name for name in WORKSHEET} | {"worksheet": "wage"}

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for name in WORKSHEET:
            self.fields[name] = form_field(Worksheet, name)
            self.fields[name].required = False

    def folded(self) -> list[Any]:
        return [self[name] for name in WORKSHEET]

    def entries(self) -> dict[str, Any]:
        document: dict[str, Any] = super().entries()
        sheet = {name: document.pop(name) for name in WORKSHEET if name in document}
        return document | ({"worksheet": sheet} if sheet else {})


def rates(request: HttpRequest) -> HttpResponse:
    return _rates_page(request)


def tax_rate_set(request: HttpRequest) -> HttpResponse:
    form = TaxRateForm(request.POST, prefix="tax")
    if form.saves(lambda: taxes.set_tax_rate(form.entries())):
        messages.success(request, "Tax rate saved.")
        return redirect("rates")
    return _rates_page(request, tax_form=form)


def labour_rate_set(request: HttpRequest) -> HttpResponse:
    form = LabourRateForm(request.POST, prefix="labour")
    if form.saves(lambda: taxes.set_labour_rate(form.entries())):
        messages.success(request, "Labour rate saved.")
        return redirect("rates")
    return _rates_page(request, labour_form=form)


def tax_rate_remove(request: HttpRequest, rate_id: int) -> HttpResponse:
    return _removed(request, taxes.remove_tax_rate(rate_id))


def labour_rate_remove(request: HttpRequest, rate_id: int) -> HttpResponse:
    return _removed(request, taxes.remove_labour_rate(rate_id))


def _removed(request: HttpRequest, result: bool) -> HttpResponse:
    if not result:
        raise Http404("There is no such rate.")
    messages.success(request, "The rate is removed. Quotes already issued keep theirs.")
    return redirect("rates")


def _rates_page(
    request: HttpRequest, tax_form: EntryForm | None = None, labour_form: EntryForm | None = None
) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    initial = {"starts_on": today}
    context = {
        "taxes": _standing(TaxRate, taxes.taxes_in_force(today), today),
        "labour": _standing(LabourRate, taxes.labour_rates_in_force(today), today),
        "tax_form": tax_form or TaxRateForm(initial=initial, prefix="tax"),
        "labour_form": labour_form or LabourRateForm(initial=initial, prefix="labour"),
    }
    return render(request, "pricing/rates.html", context, status=422 if tax_form or labour_form else 200)


def _standing(model: Any, in_force: list[Any], today: date) -> dict[str, list[Any]]:
    """Rates in force and to come, and those past."""
    rows = list(model.objects.order_by("name", "-starts_on"))
    now = [row for row in rows if row in in_force or row.starts_on > today]
    return {"now": now, "past": [row for row in rows if row not in now]}
