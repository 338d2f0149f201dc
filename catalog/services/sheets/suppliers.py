"""Suppliers as a sheet: a row each with its order terms, and a further row for each further closed stretch."""

import copy
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import entries_of, read, write
from catalog.core.ground.document_reader import DocumentError
from catalog.core.leads.order_terms import OrderTerms
from catalog.core.materials.entries import SupplierEntry
from catalog.models import Supplier
from catalog.services.changes import counted_once
from catalog.services.csv_reading import LineError, Row, SheetError, by_code, differing, read_sheet
from catalog.services.csv_writing import write_sheet
from catalog.services.sheets.previews import Preview, compared, refuse_unseen, refused
from catalog.services.suppliers import list_suppliers, store_suppliers
from catalog.services.typed_money import entry_reader

Document = dict[str, Any]
OWN = ("code", "name", "order_cut_off", "email", "contact", "phone", "account_number", "note")
STATED = ("source", "stated_on", "stated_by")
TERMS = {f"terms_{entry.name}" if entry.name in STATED else entry.name: entry.name for entry in entries_of(OrderTerms)}
CLOSED = {"closed_from": "first", "closed_until": "last", "closed_reason": "reason"}
COLUMNS = (*OWN, *TERMS, *CLOSED)


@dataclass
class Wanted:
    """One supplier as its rows would have it. closed_lines: the line of each closed stretch that stands in the file."""

    code: str
    line: int
    document: Document
    closed_lines: dict[int, int] = field(default_factory=dict)
    supplier: SupplierEntry | None = None


def export() -> bytes:
    return write_sheet(COLUMNS, (cells for row in list_suppliers() for cells in _rows(write(row.entry()))))


def _rows(document: Document) -> Iterator[dict[str, Any]]:
    shared = {name: document[name] for name in OWN}
    terms = document.get("order_terms") or {}
    shared |= {column: terms.get(name) for column, name in TERMS.items()}
    for closed in document["closed"] or [{}]:
        yield shared | {column: closed.get(name) for column, name in CLOSED.items()}


def preview(content: bytes) -> Preview:
    """What the file would add, change and leave, and every error by its line. Stores nothing."""
    try:
        rows = read_sheet(content, COLUMNS)
    except SheetError as error:
        return refused(content, [error.error])
    present = {row.code: write(row.entry()) for row in list_suppliers()}
    errors: list[LineError] = []
    wanted = [_wanted(code, those, present.get(code), errors) for code, those in by_code(rows, errors).items()]
    return refused(content, errors) if errors else compared(content, wanted, present)


@transaction.atomic
@counted_once()
def apply(content: bytes, sha256: str, plan_sha256: str = "") -> Preview:
    """Do what was previewed: this very file, all of it or nothing."""
    list(Supplier.objects.order_by("pk").select_for_update().values_list("pk"))
    result = preview(content)
    refuse_unseen(result, sha256, plan_sha256)
    store_suppliers([entry.supplier for entry in result.wanted])
    return result


def _wanted(code: str, rows: list[Row], present: Document | None, errors: list[LineError]) -> Wanted:
    """The file over what is there. A column the file has not changes nothing; closed days it has not stay."""
    wanted = Wanted(code, rows[0].line, copy.deepcopy(present) if present else {"code": code, "closed": []})
    errors.extend(differing(rows, (*OWN, *TERMS), "supplier"))
    first = rows[0].cells
    wanted.document |= {name: first[name] for name in OWN if name in first}
    given = {name: first[column] for column, name in TERMS.items() if column in first}
    terms = {**(wanted.document.pop("order_terms", None) or {}), **given}
    # How claims are counted is no term by itself.
    if any(value not in (None, "") for name, value in terms.items() if name != "claim_counts"):
        wanted.document["order_terms"] = {name: value for name, value in terms.items() if value not in (None, "")}
    for row in rows:
        _lay_closed(wanted, row)
    try:
        _read(wanted)
    except DocumentError as error:
        errors.extend(_placed(wanted, complaint.path, complaint.reason) for complaint in error.complaints)
    return wanted


def _lay_closed(wanted: Wanted, row: Row) -> None:
    cells = {name: row.cells[column] for column, name in CLOSED.items() if column in row.cells}
    if not any(cells.values()):
        return
    closed = wanted.document["closed"]
    days = (cells.get("first"), cells.get("last"))
    place = next((at for at, entry in enumerate(closed) if (entry["first"], entry["last"]) == days), len(closed))
    if place == len(closed):
        closed.append({})
    closed[place] = {**closed[place], **cells}
    wanted.closed_lines[place] = row.line


def _read(wanted: Wanted) -> None:
    filled = {name: value for name, value in wanted.document.items() if value not in (None, "")}
    wanted.supplier = read(SupplierEntry, entry_reader(filled))
    wanted.document = write(wanted.supplier)


def _placed(wanted: Wanted, path: str, reason: str) -> LineError:
    head, _, leaf = path.partition(".")
    line, columns = wanted.line, dict[str, str]()
    if head.startswith("closed["):
        place = int(head.removeprefix("closed[").partition("]")[0])
        line, columns = wanted.closed_lines.get(place, line), CLOSED
        leaf = leaf or "first"
    elif head == "order_terms":
        columns = TERMS
    return LineError(line, {name: column for column, name in columns.items()}.get(leaf, leaf or head), reason)
