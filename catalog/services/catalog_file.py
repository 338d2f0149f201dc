from functools import partial
from typing import Any, Literal

from django.db import transaction

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.materials import specs
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.firm_document import FirmWithStandards
from catalog.models import Firm, Material, Supplier
from catalog.services.changes import counted_once
from catalog.services.firm import store_firm
from catalog.services.materials import store_materials
from catalog.services.suppliers import store_suppliers

FORMAT = "curved-wall-catalog/1"
HEAD = ("format", "units", "description")
OnKnown = Literal["replace", "keep"]


def read_book(document: dict[str, Any]) -> Catalog:
    """A catalog file as a core value."""
    head = Reader(document)
    head.choice("format", (FORMAT,))
    units = head.choice("units", ("in", "mm"), "in")
    reader = Reader({name: document[name] for name in document if name not in HEAD}, "", units)
    both = read(FirmWithStandards, reader.object("firm"))
    suppliers = reader.items("suppliers", partial(read, specs.Supplier))
    materials = reader.items("materials", partial(read, specs.Material))
    reader.finish()
    _refuse_doubles("suppliers", [supplier.code for supplier in suppliers])
    _refuse_doubles("materials", [material.code for material in materials])
    return Catalog(both.firm, both.standards).with_more(suppliers, materials)


def _refuse_doubles(name: str, codes: list[str]) -> None:
    for place, code in enumerate(codes):
        if code in codes[:place]:
            raise DocumentError.at(f"{name}[{place}].code", f'"{code}" is given twice')


@transaction.atomic
@counted_once()
def store_book(book: Catalog, *, on_known: OnKnown = "replace") -> None:
    """Bring a book into the catalog, all of it or nothing. What the book does not name is left alone.

    What the catalog knows already is made what the book says ("replace") or left as it is ("keep").
    """
    suppliers, materials, firm_known = list(book.suppliers.values()), list(book.materials.values()), False
    if on_known == "keep":
        known = set(Supplier.objects.values_list("code", flat=True))
        suppliers = [supplier for supplier in suppliers if supplier.code not in known]
        known = set(Material.objects.values_list("code", flat=True))
        materials = [material for material in materials if material.code not in known]
        firm_known = Firm.objects.exists()
    store_suppliers(suppliers)
    store_materials(materials)
    if not firm_known:
        store_firm(book.firm, book.standards)


def import_catalog(document: dict[str, Any], *, on_known: OnKnown = "replace") -> Catalog:
    book = read_book(document)
    store_book(book, on_known=on_known)
    return book
