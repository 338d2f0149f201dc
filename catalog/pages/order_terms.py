"""On which terms a supplier takes orders: stated with source and day, or not stated at all."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse

from catalog.core.ground.declared import write
from catalog.core.leads.order_terms import OrderTerms
from catalog.models import Supplier
from catalog.services.order_terms import remove_order_terms, set_order_terms
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.entry_form import entry_page
from quoting.platform.pages.stored_values import Stored, hold

COUNTS = {"calendar_days": "calendar days", "workdays": "working days of the supplier"}


RUSH = tuple(f"rush_{name}" for name in ("production_workdays", "transit_workdays", "cushion_workdays", "fee", "share"))
TERMS = (
    "minimum_order",
    "freight",
    "freight_free_from",
    "claim_days",
    "claim_counts",
    "source",
    "stated_by",
    "stated_on",
)


class OrderTermsForm(form_of(OrderTerms, *TERMS, *RUSH, words={"claim_counts": COUNTS})):
    folds = {"Rush": RUSH}


def order_terms_set(request: HttpRequest, supplier_id: int) -> HttpResponse:
    hold(Supplier.objects.filter(pk=supplier_id))
    row = _row(supplier_id)
    stored = Stored(_entry(row), getattr(row, "order_terms", None), request.path)
    form = OrderTermsForm(request.POST or None, initial=_initial(row), stored=stored)
    if form.saves(lambda: set_order_terms(row.code, form.entries())):
        messages.success(request, "Order terms saved.")
        return redirect("supplier", row.pk)
    back = {"back": reverse("supplier", args=[row.pk]), "back_label": row.name}
    return entry_page(request, form, heading=f"How {row.name} takes orders", button="State them", **back)


def order_terms_remove(request: HttpRequest, supplier_id: int) -> HttpResponse:
    row = _row(supplier_id)
    if not remove_order_terms(row.code):
        raise Http404("That supplier has stated no order terms.")
    messages.success(request, "Order terms deleted. Pages that need one will say so.")
    return redirect("supplier", row.pk)


def _row(supplier_id: int) -> Supplier:
    return get_object_or_404(Supplier.objects.select_related("order_terms"), pk=supplier_id)


def _initial(row: Supplier) -> dict[str, Any]:
    terms = row.to_core().terms
    return write(terms) if terms else {"claim_counts": "calendar_days"}


def _entry(row: Supplier) -> dict[str, Any]:
    """What no terms say counts as well: somebody may state it first."""
    document = _initial(row)
    return {name: document.get(name) for name in OrderTermsForm.base_fields}
