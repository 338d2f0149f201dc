from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from catalog.core.materials.entries import SupplierEntry
from catalog.models import Supplier
from catalog.pages.closures import ClosureForm
from catalog.pages.panels import panels
from catalog.services.suppliers import add_closure, delete_supplier, list_suppliers, remove_closure, save_supplier
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.entry_form import entry_page, saved_words
from quoting.platform.pages.stored_values import Stored, hold

CHANGED = ("name", "order_cut_off", "email", "phone", "contact", "account_number", "note")
SupplierForm = form_of(SupplierEntry, "code", *CHANGED)
SupplierChangeForm = form_of(SupplierEntry, *CHANGED)


def supplier_list(request: HttpRequest) -> HttpResponse:
    today = day_at_the_firm(clock.now())
    result = panels["scores"]()
    rows = [
        (row, [closure for closure in row.closures.all() if closure.last_day >= today], result[row.code])
        for row in list_suppliers()
    ]
    return render(request, "catalog/suppliers.html", {"suppliers": rows})


def supplier_add(request: HttpRequest) -> HttpResponse:
    form = SupplierForm(request.POST or None)
    if form.saves(lambda: save_supplier(form.entries(), adding=True)):
        row = Supplier.objects.get(code=form.cleaned_data["code"])
        messages.success(request, f"Added: {row.name}. Enter below the days it is closed.")
        return redirect("supplier", row.pk)
    back = {"back": reverse("supplier_list"), "back_label": "Suppliers"}
    return entry_page(request, form, heading="New supplier", button="Add it", **back)


def supplier(request: HttpRequest, supplier_id: int) -> HttpResponse:
    return _supplier_page(request, _row(supplier_id), ClosureForm())


def supplier_change(request: HttpRequest, supplier_id: int) -> HttpResponse:
    hold(Supplier.objects.filter(pk=supplier_id))
    row = _row(supplier_id)
    form = SupplierChangeForm(request.POST or None, stored=Stored(_entry(row), row, request.path))
    written = write(row.to_core())
    keep = {"code": row.code, "closed": written["closed"], "order_terms": written.get("order_terms")}
    if form.saves(lambda: save_supplier(form.entries() | keep)):
        messages.success(request, saved_words(row.name, form))
        return redirect("supplier", row.pk)
    back = {"back": reverse("supplier", args=[row.pk]), "back_label": row.name}
    return entry_page(request, form, heading=f"Change {row.name}", **back)


def supplier_closure_add(request: HttpRequest, supplier_id: int) -> HttpResponse:
    row, form = _row(supplier_id), ClosureForm(request.POST)
    if form.saves(lambda: add_closure(form.entries(), row.code)):
        messages.success(request, "Closed days saved; order dates follow at once.")
        return redirect("supplier", row.pk)
    return _supplier_page(request, row, form)


def supplier_closure_remove(request: HttpRequest, supplier_id: int, closure_id: int) -> HttpResponse:
    row = _row(supplier_id)
    if not remove_closure(closure_id, row.code):
        raise Http404("That supplier has no such closed days.")
    messages.success(request, "Closed days deleted.")
    return redirect("supplier", row.pk)


def supplier_delete(request: HttpRequest, supplier_id: int) -> HttpResponse:
    row = _row(supplier_id)
    try:
        delete_supplier(row.code)
    except DocumentError as error:
        messages.error(request, "; ".join(complaint.reason for complaint in error.complaints))
        return redirect("supplier", row.pk)
    messages.success(request, f"{row.name} is deleted.")
    return redirect("supplier_list")


def _supplier_page(request: HttpRequest, row: Supplier, form: ClosureForm) -> HttpResponse:
    closures = sorted(row.closures.all(), key=lambda entry: entry.first_day)
    context = {
        "row": row,
        "terms": row.to_core().terms,
        "closures": closures,
        "form": form,
        "sold": row.materials.all(),
        "today": day_at_the_firm(clock.now()),
        "score": panels["score"](row),
    }
    return render(request, "catalog/supplier.html", context, status=form.status())


def _row(supplier_id: int) -> Supplier:
    return get_object_or_404(Supplier.objects.prefetch_related("closures", "materials"), pk=supplier_id)


def _entry(row: Supplier) -> dict[str, Any]:
    document = write(row.entry())
    return {name: document[name] or "" for name in CHANGED}
