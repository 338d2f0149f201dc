from collections.abc import Iterable, Mapping
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.ground.workdays import Closure
from catalog.core.leads.order_terms import OrderTerms
from catalog.core.materials import specs
from catalog.core.materials.entries import SupplierEntry
from catalog.models import Closure as ClosureRow
from catalog.models import OrderTerms as OrderTermsRow
from catalog.models import Supplier
from catalog.services.row_sync import Figures, remove_first, save_if_changed, sync_rows
from catalog.services.typed_money import entry_reader
from quoting.platform.models.core_values import column_values
from quoting.platform.read_once import read_once


@transaction.atomic
def store_suppliers(suppliers: Iterable[specs.Supplier], path: str = "suppliers") -> None:
    suppliers = list(suppliers)
    codes = [supplier.code for supplier in suppliers]
    twice = [place for place, code in enumerate(codes) if code in codes[:place]]
    if twice:
        raise DocumentError(
            DocumentProblem(f"{path}[{place}].code", f'"{codes[place]}" is given twice') for place in twice
        )
    present = Supplier.objects.in_bulk(codes, field_name="code")
    for supplier in suppliers:
        row = present.get(supplier.code) or Supplier(code=supplier.code)
        save_if_changed(row, column_values(supplier, Supplier))
        sync_rows(row.closures.all(), closure_figures(supplier.closures), owner={"supplier": row})
        _store_terms(row, supplier.terms)


def _store_terms(row: Supplier, terms: OrderTerms | None) -> None:
    present = OrderTermsRow.objects.filter(supplier=row).first()
    if terms is not None:
        save_if_changed(present or OrderTermsRow(supplier=row), column_values(terms, OrderTermsRow))
    elif present is not None:
        present.delete()


def closure_figures(closures: Iterable[Closure]) -> Iterable[Figures]:
    return (column_values(closure, ClosureRow) for closure in closures)


def add_closure(document: dict[str, Any], supplier: str | None = None) -> ClosureRow:
    """Days on which a supplier, or without one the firm, does not work: first, last, reason."""
    closure = read(Closure, Reader(document))
    return ClosureRow.objects.create(supplier_id=supplier, **column_values(closure, ClosureRow))


def remove_closure(closure_id: int, supplier: str | None = None) -> bool:
    return remove_first(ClosureRow.objects.filter(supplier=supplier, pk=closure_id))


@transaction.atomic
def save_supplier(document: dict[str, Any], *, adding: bool = False) -> Supplier:
    """A supplier as a screen gives it: as in a catalog file, and with `note`."""
    supplier = read(SupplierEntry, entry_reader(document))
    if adding and Supplier.objects.filter(code=supplier.code).exists():
        raise DocumentError.at("code", f'"{supplier.code}" is another supplier\'s code; give a new one')
    store_suppliers([supplier])
    return Supplier.objects.get(code=supplier.code)


def delete_supplier(code: str) -> None:
    row = Supplier.objects.get(code=code)
    sold = list(row.materials.values_list("code", flat=True)[:3])
    if sold:
        raise DocumentError.at("code", f"{row.name} supplies {', '.join(sold)}; give those another first")
    row.delete()


def suppliers_by_code() -> Mapping[str, specs.Supplier]:
    return read_once("suppliers", lambda: {row.code: row.to_core() for row in list_suppliers()})


def list_suppliers() -> list[Supplier]:
    return list(Supplier.objects.select_related("order_terms").prefetch_related("closures"))
