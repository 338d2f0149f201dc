"""The catalog that stands behind a job file worked up by command: the stored one, or the starter catalog."""

from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.db import connection

from catalog.core.ground.document_reader import parse_document
from catalog.core.materials.catalog_data import Catalog
from catalog.models import Firm
from catalog.services.book import book_of
from catalog.services.catalog_file import read_book

STARTER = Path(settings.BASE_DIR) / "fixtures" / "catalog" / "starter.json"


@dataclass(frozen=True)
class CatalogBehind:
    book: Catalog
    name: str


def catalog_behind() -> CatalogBehind:
    """The starter catalog serves where no firm is stored yet, or not even a table for one."""
    if _a_firm_is_stored():
        return CatalogBehind(book_of(), "the stored catalog")
    return CatalogBehind(read_book(parse_document(STARTER.read_text(encoding="utf-8"))), "the starter catalog")


def _a_firm_is_stored() -> bool:
    table = Firm._meta.db_table
    return table in connection.introspection.table_names() and Firm.objects.exists()
