import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction

from catalog.core.ground.refusal import Refused
from catalog.models import Material, Supplier
from catalog.services.book import materials_with_parts
from catalog.services.changes import counted_once
from catalog.services.csv_export import document_of
from catalog.services.csv_materials import Wanted, wanted_material
from catalog.services.csv_reading import LineError, Row, SheetError, read_sheet
from catalog.services.materials import store_materials
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import firm_marks


@dataclass(frozen=True)
class Change:
    """One entry of a material that the file would change."""

    line: int
    code: str
    entry: str
    old: str
    new: str


@dataclass(frozen=True)
class Preview:
    """What a file would do, before it does it. sha256: of the file. plan_sha256: of what it would do."""

    sha256: str
    added: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    unchanged: tuple[str, ...] = ()
    errors: tuple[LineError, ...] = ()
    plan_sha256: str = ""
    wanted: tuple[Wanted, ...] = field(default=(), repr=False, compare=False)

    @property
    def changed(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(change.code for change in self.changes))


def preview_csv(content: bytes) -> Preview:
    """What the file would add, change and leave, and every error by its line. Stores nothing."""
    sha256 = hashlib.sha256(content).hexdigest()
    try:
        rows = read_sheet(content)
    except SheetError as error:
        return Preview(sha256, errors=(error.error,))
    suppliers = set(Supplier.objects.values_list("code", flat=True))
    codes = dict.fromkeys(row.cells["code"] for row in rows)
    present = {row.code: document_of(row) for row in materials_with_parts().filter(code__in=codes)}
    marks = firm_marks()
    wanted = [
        wanted_material(code, those, present.get(code), suppliers, marks) for code, those in _by_code(rows).items()
    ]
    nameless = [LineError(row.line, "code", "is empty") for row in rows if not row.cells["code"]]
    errors = sorted([*nameless, *(error for one in wanted for error in one.errors)], key=lambda e: e.line)
    if errors:
        return Preview(sha256, errors=tuple(errors))
    return _compared(sha256, wanted, present)


def _by_code(rows: list[Row]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in rows:
        if row.cells["code"]:
            found.setdefault(row.cells["code"], []).append(row)
    return found


def _compared(sha256: str, wanted: list[Wanted], present: dict[str, Any]) -> Preview:
    changes = [change for one in wanted if one.code in present for change in _changes(one, present[one.code])]
    touched = {change.code for change in changes}
    added = tuple(one.code for one in wanted if one.code not in present)
    doing = [one for one in wanted if one.code in touched or one.code not in present]
    plan = [[one.document for one in doing], [vars(change) for change in changes]]
    return Preview(
        sha256,
        added,
        tuple(changes),
        tuple(one.code for one in wanted if one.code in present and one.code not in touched),
        (),
        hashlib.sha256(json.dumps(plan, sort_keys=True).encode()).hexdigest(),
        tuple(doing),
    )


def _changes(one: Wanted, present: dict[str, Any]) -> Iterator[Change]:
    old, new = dict(_entries(present)), dict(_entries(one.document))
    for entry in [*old, *(entry for entry in new if entry not in old)]:
        before, after = old.get(entry, ""), new.get(entry, "")
        if before != after:
            yield Change(one.line, one.code, entry, before, after)


def _entries(value: Any, at: str = "") -> Iterator[tuple[str, str]]:
    """A document as entries for a person: packs by their code, prices by their day."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _entries(inner, f"{at} {name}".strip())
    elif isinstance(value, list):
        for place, inner in enumerate(value):
            named = inner if isinstance(inner, dict) else {}
            yield from _entries(inner, f"{at} {named.get('code') or named.get('starts_on') or place + 1}")
    elif isinstance(value, bool):
        yield at, "yes" if value else "no"
    else:
        yield at, "" if value is None else str(value)


@transaction.atomic
@counted_once()
def apply_csv(content: bytes, sha256: str, plan_sha256: str = "") -> Preview:
    """Do what was previewed: this very file, all of it or nothing.

    With `plan_sha256` also only as long as the catalog makes it come to the same changes.
    """
    preview = preview_csv(content)
    if preview.sha256 != sha256:
        raise Refused("This is not the file that was previewed; preview it again.")
    if preview.errors:
        raise Refused(*(str(error) for error in preview.errors))
    if plan_sha256 and preview.plan_sha256 != plan_sha256:
        raise Refused("The catalog changed since the file was previewed; preview it again.")
    store_materials([one.material for one in preview.wanted if one.material is not None])
    for one in preview.wanted:
        row = Material.objects.get(code=one.code)
        save_if_changed(row, {"active": one.document["active"], "note": one.document["note"]})
    return preview
