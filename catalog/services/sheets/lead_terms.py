"""Lead times that suppliers gave, as a sheet. A lead time is never changed: a new row is added after those there."""

from collections import Counter
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.leads.lead_times import LeadTerm
from catalog.models import LeadTerm as LeadTermRow
from catalog.models import Material
from catalog.services.changes import counted_once
from catalog.services.csv_reading import LineError, Row, SheetError, read_sheet
from catalog.services.csv_writing import write_sheet
from catalog.services.sheets.previews import Preview, digest, refuse_unseen, refused, sha256_of
from quoting.platform.models.core_values import column_values

COLUMNS = ("material", "production", "transit_workdays", "source", "stated_on", "stated_by")


@dataclass(frozen=True)
class Said:
    material: str
    term: LeadTerm

    def __str__(self) -> str:
        term = self.term
        return f"{self.material}: {term.production.in_words()} and {term.transit_workdays} in transit, {term.source}"


def export() -> bytes:
    return write_sheet(COLUMNS, map(_cells, _present()))


def preview(content: bytes) -> Preview:
    """What the file would add and leave, and every error by its line. Stores nothing."""
    try:
        rows = read_sheet(content, COLUMNS, needed=COLUMNS[:-1])
    except SheetError as error:
        return refused(content, [error.error])
    codes = set(Material.objects.values_list("code", flat=True))
    there, added, same = Counter(_present()), [], []
    lines: dict[Said, int] = {}
    errors: list[LineError] = []
    for row in rows:
        text = _read(row, codes, errors)
        if text is None:
            continue
        if there[text]:
            there[text] -= 1
            same.append(str(text))
        elif text in lines:
            errors.append(LineError(row.line, "", f"says what line {lines[text]} says"))
        else:
            lines[text] = row.line
            added.append(text)
    if errors:
        return refused(content, errors)
    plan = digest([str(_cells(entry)) for entry in added])
    return Preview(sha256_of(content), tuple(map(str, added)), (), tuple(same), (), plan, tuple(added))


@transaction.atomic
@counted_once()
def apply(content: bytes, sha256: str, plan_sha256: str = "") -> Preview:
    """Do what was previewed: this very file, all of it or nothing."""
    list(Material.objects.order_by("pk").select_for_update().values_list("pk"))
    result = preview(content)
    refuse_unseen(result, sha256, plan_sha256)
    rows = Material.objects.in_bulk({entry.material for entry in result.wanted}, field_name="code")
    for each in result.wanted:
        LeadTermRow.objects.create(material=rows[each.material], **column_values(each.term, LeadTermRow))
    return result


def _present() -> list[Said]:
    rows = LeadTermRow.objects.select_related("material").order_by("material__code", "pk")
    return [Said(row.material.code, row.to_core()) for row in rows]


def _cells(text: Said) -> dict[str, Any]:
    return {"material": text.material, **write(text.term)}


def _read(row: Row, codes: set[str], errors: list[LineError]) -> Said | None:
    code = row.cells["material"]
    if code not in codes:
        errors.append(LineError(row.line, "material", f'"{code[:40]}" is not a material in the catalog'))
        return None
    reader = Reader({name: cell for name, cell in row.cells.items() if name != "material" and cell})
    try:
        term = read(LeadTerm, reader)
    except DocumentError as error:
        errors.extend(LineError(row.line, complaint.path, complaint.reason) for complaint in error.complaints)
        return None
    return Said(code, term)
