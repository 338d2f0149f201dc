"""The columns of the catalog as a sheet: one row for each pack of a material, its latest price, its facts."""

import re
from typing import Any

from catalog.core.ground.declared import entries_of
from catalog.core.materials.specs import PROPERTIES, Pack

MATERIAL_COLUMNS = (
    "code",
    "name",
    "kind",
    "supply",
    "unit_used",
    "unit_bought",
    "waste",
    "supplier",
    "cushion_workdays",
    "sign_off_workdays",
    "active",
    "note",
    "own_kind",
)
PACK_COLUMNS = {f"pack_{entry.field}": entry.name for entry in entries_of(Pack) if entry.name != "prices"}
PRICE_COLUMNS = {
    "price": "amount",
    "price_starts_on": "starts_on",
    "price_held_until": "held_until",
    "price_source": "source",
}
FACT_COLUMNS = tuple(column for name in PROPERTIES for column in (name, f"{name}_source"))
SHARED_COLUMNS = frozenset((*MATERIAL_COLUMNS, *FACT_COLUMNS))
"""Of the material: the same in each of its rows, or empty but in the first."""
COLUMNS = (*MATERIAL_COLUMNS, *PACK_COLUMNS, *PRICE_COLUMNS, *FACT_COLUMNS)

SOURCE_RE = re.compile(r"(?P<sure>[a-z]+)(?: (?P<stated_on>[0-9]{4}-[0-9]{2}-[0-9]{2}))?: (?P<source>.+)", re.S)
SOURCE_EXAMPLE = '"published 2026-05-01: the standard and its table"'


def source_cell(fact: dict[str, Any]) -> str:
    day = f" {fact['stated_on']}" if fact["stated_on"] else ""
    return f"{fact['sure']}{day}: {fact['source']}"
