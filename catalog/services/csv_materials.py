"""Rows of a sheet laid over what the catalog holds, material by material."""

import copy
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.ground.typed_marks import MoneyMarks
from catalog.core.materials.entries import MaterialEntry
from catalog.core.materials.specs import PROPERTIES
from catalog.services.csv_columns import (
    MATERIAL_COLUMNS,
    PACK_COLUMNS,
    PRICE_COLUMNS,
    SHARED_COLUMNS,
    SOURCE_EXAMPLE,
    SOURCE_RE,
)
from catalog.services.csv_reading import LineError, Row, differing
from catalog.services.materials import as_kept, material_complaints

Document = dict[str, Any]
PATH_RE = re.compile(r"(?:packs\[(?P<pack>\d+)\]\.)?(?:prices\[\d+\]\.(?P<price>\w+)|(?P<name>[\w.]+))?")


class WrongCell(Exception):
    def __init__(self, line: int, column: str, reason: str) -> None:
        super().__init__(reason)
        self.error = LineError(line, column, reason)


@dataclass
class Wanted:
    """One material as its rows would have it."""

    code: str
    line: int
    document: Document
    pack_lines: dict[int, int] = field(default_factory=dict)
    material: MaterialEntry | None = None
    errors: list[LineError] = field(default_factory=list)


def wanted_material(
    code: str, rows: list[Row], present: Document | None, suppliers: Iterable[str], marks: MoneyMarks
) -> Wanted:
    """What the material will be: the file over what is there. A column the file has not changes nothing."""
    start = copy.deepcopy(present) if present else {"code": code, "packs": [], "facts": {}, "lead_terms": []}
    wanted = Wanted(code, rows[0].line, start)
    try:
        if present is None:
            _refuse_edges(code, wanted.line, "code")
        _lay_material(wanted, rows)
        for row in rows:
            _lay_pack(wanted, row)
        _read(wanted, set(suppliers), marks)
    except WrongCell as wrong:
        wanted.errors.append(wrong.error)
    except DocumentError as error:
        wanted.errors.extend(dict.fromkeys(_placed(wanted, complaint) for complaint in error.complaints))
    return wanted


def _refuse_edges(code: str, line: int, column: str) -> None:
    if code != code.strip():
        raise WrongCell(line, column, f'"{code[:40]}" begins or ends with a space')


def _lay_material(wanted: Wanted, rows: list[Row]) -> None:
    first = rows[0].cells
    wanted.errors.extend(differing(rows, SHARED_COLUMNS, "material"))
    for column in set(first) & set(MATERIAL_COLUMNS):
        wanted.document[column] = first[column] or None
    if "active" in first:
        wanted.document["active"] = _yes_or_no(first["active"], wanted.line)
    for name in PROPERTIES:
        if name in first or f"{name}_source" in first:
            _lay_fact(wanted, name, first)


def _yes_or_no(cell: str, line: int) -> bool:
    if cell.lower() not in ("", "yes", "no"):
        raise WrongCell(line, "active", f'"{cell[:40]}" must be yes or no')
    return cell.lower() != "no"


def _lay_fact(wanted: Wanted, name: str, cells: dict[str, str]) -> None:
    facts = wanted.document["facts"]
    value, source = cells.get(name), cells.get(f"{name}_source")
    if not value and not source:
        if value == "":
            facts.pop(name, None)
        return
    fact = dict(facts.get(name) or {})
    if value:
        fact["value"] = value
    elif value == "":
        raise WrongCell(wanted.line, name, "a source is given and no figure")
    if source:
        match = SOURCE_RE.fullmatch(source)
        if match is None:
            reason = f"write how sure it is, the day, and where it stands, as in {SOURCE_EXAMPLE}"
            raise WrongCell(wanted.line, f"{name}_source", reason)
        fact |= match.groupdict()
    elif source == "":
        raise WrongCell(wanted.line, f"{name}_source", "a figure is given and not where it comes from")
    if fact:
        facts[name] = fact


def _lay_pack(wanted: Wanted, row: Row) -> None:
    cells = {name: row.cells[column] or None for column, name in PACK_COLUMNS.items() if column in row.cells}
    price = {name: row.cells[column] or None for column, name in PRICE_COLUMNS.items() if column in row.cells}
    code = cells.get("code")
    if code is None:
        if any(cells.values()) or any(price.values()):
            raise WrongCell(row.line, "pack_code", "is empty, and the row says something about a pack")
        if row.line != wanted.line:
            raise WrongCell(row.line, "code", f"is on line {wanted.line} already")
        return
    packs = wanted.document["packs"]
    place = next((place for place, pack in enumerate(packs) if pack["code"] == code), len(packs))
    if place in wanted.pack_lines:
        reason = f'"{code[:40]}" is on line {wanted.pack_lines[place]} already'
        raise WrongCell(row.line, "pack_code", reason)
    wanted.pack_lines[place] = row.line
    if place == len(packs):
        _refuse_edges(code, row.line, "pack_code")
        packs.append({"prices": []})
    packs[place].update(cells)
    _lay_price(packs[place]["prices"], price, row.line)


def _lay_price(prices: list[Document], cells: Document, line: int) -> None:
    if not any(cells.values()):
        return
    for column, name in (("price", "amount"), ("price_starts_on", "starts_on")):
        if not cells.get(name):
            raise WrongCell(line, column, "a price needs both an amount and the day it starts on")
    for price in prices:
        if price["starts_on"] == cells["starts_on"]:
            price.update(cells)
            return
    prices.append(cells)


def _read(wanted: Wanted, suppliers: set[str], marks: MoneyMarks) -> None:
    reader = Reader(wanted.document, bare_unit="mm", marks=marks)
    material = as_kept(read(MaterialEntry, reader))
    complaints = list(material_complaints(material, "", suppliers))
    if complaints:
        raise DocumentError(complaints)
    wanted.material = material
    wanted.document = write(material)


def _placed(wanted: Wanted, complaint: DocumentProblem) -> LineError:
    match = PATH_RE.match(complaint.path)
    result = match.groupdict() if match else {}
    line = wanted.line
    if result.get("pack"):
        line = wanted.pack_lines.get(int(result["pack"]), line)
        columns = PRICE_COLUMNS if result.get("price") else PACK_COLUMNS
        named = {name: column for column, name in columns.items()}
        name = result.get("price") or result.get("name") or ""
        return LineError(line, named.get(name, name), complaint.reason)
    _, _, fact = complaint.path.partition("facts.")
    if fact:
        name, _, part = fact.partition(".")
        return LineError(line, name if part in ("", "value") else f"{name}_source", complaint.reason)
    return LineError(line, complaint.path, complaint.reason)
