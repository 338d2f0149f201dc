from collections.abc import Iterator
from typing import Any

from catalog.core.ground.declared import write
from catalog.core.materials.specs import PROPERTIES
from catalog.services.book import materials_with_parts
from catalog.services.csv_columns import COLUMNS, PACK_COLUMNS, PRICE_COLUMNS, source_cell
from catalog.services.csv_writing import Cell, write_sheet

Document = dict[str, Any]


def export_csv() -> bytes:
    """Every material. What `apply_csv` reads back the same."""
    return write_sheet(COLUMNS, (cells for row in materials_with_parts() for cells in _rows(write(row.entry()))))


def _rows(document: Document) -> Iterator[dict[str, Cell]]:
    shared = {name: value for name, value in document.items() if not isinstance(value, list | dict)}
    shared["active"] = "yes" if document["active"] else "no"
    for name in PROPERTIES:
        if fact := document["facts"].get(name):
            # The unit is in the column's name, so the cell is a bare number that a spreadsheet can use.
            shared[name], shared[f"{name}_source"] = fact["value"].removesuffix(" mm"), source_cell(fact)
    for pack in document["packs"] or [None]:
        yield shared | (_pack_cells(pack) if pack else {})


def _pack_cells(pack: Document) -> dict[str, Cell]:
    cells: dict[str, Cell] = {column: pack[name] for column, name in PACK_COLUMNS.items()}
    for name in ("length", "width"):
        cells[f"pack_{name}_mm"] = (pack[name] or "").removesuffix(" mm")
    if pack["prices"]:
        latest = max(pack["prices"], key=lambda price: price["starts_on"])
        cells |= {column: latest[name] for column, name in PRICE_COLUMNS.items()}
    return cells
