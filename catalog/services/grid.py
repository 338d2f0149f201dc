"""The catalog as rows of cells: what each holds and lacks, and the typed ones stored together or not at all."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.units import BareLengthUnit
from catalog.core.leads.lead_times import LeadTerm, term_in_force
from catalog.core.materials.entries import MaterialEntry
from catalog.core.materials.specs import INVENTED_PRICE, Fact, Material, Pack, Price
from catalog.models import Supplier
from catalog.services.book import materials_with_parts
from catalog.services.changes import counted_once
from catalog.services.materials import material_complaints, store_materials
from catalog.services.starter_catalog import INVENTED_FIGURE
from catalog.services.typed_money import entry_reader

LIMITS = {
    "track": "least_radius_mm",
    "bead": "least_radius_mm",
    "trim": "least_radius_mm",
    "board": "lengthwise_dry_least_radius_mm",
}
# Of a bead only those that are bent need one.
ALWAYS_ASKED = ("track", "trim", "board")
NOBODYS = (INVENTED_PRICE, INVENTED_FIGURE, "")
NEEDS_SOURCE = "say who gives the new figure, such as: price list of March"
NOT_EMPTIED = "stays when emptied: type the new one, which holds from today"
LEAD_RE = re.compile(r"(?P<production>.*?)(?:\+\s*(?P<transit>[0-9]{1,3}))?", re.DOTALL)
CELL_OF_PATH = (("supplier", "supplier"), ("packs[", "price"), ("lead_terms[", "lead"), ("facts.", "limit"))


@dataclass(frozen=True)
class GridRow:
    """A material and one of its packs; the first row of a material alone holds its supplier, lead time and limit.

    limit: the property in that cell, empty where the kind has none. starter: it is shown for its limit, whose source it
    then names.
    """

    material: Material
    pack: Pack | None
    limit: str
    is_first: bool
    starter: bool = False

    def figures(self, today: date) -> tuple[Price | None, LeadTerm | None, Fact | None]:
        """In force that day."""
        return (
            self.pack.price_on(today) if self.pack else None,
            term_in_force(self.material.lead_terms, today) if self.is_first else None,
            self.material.trim_limit(self.limit) if self.is_first and self.limit else None,
        )

    def source(self, today: date) -> str:
        """Of the price; without one of the lead time, else of the limit."""
        figures = self.figures(today)
        return next((one.source for one in (figures[::-1] if self.starter else figures) if one is not None), "")


def rows_of(material: Material, *, every_pack: bool, starter: bool = False) -> list[GridRow]:
    """starter: with the limit that is a starter figure in the place of the usual one."""
    limit = LIMITS.get(material.kind, "")
    if material.kind not in ALWAYS_ASKED and limit not in material.facts:
        limit = ""
    if starter:
        limit = next(iter(starter_limits(material)), limit)
    packs: Sequence[Pack | None] = material.packs or (None,)
    places = enumerate(packs if every_pack else packs[:1])
    return [GridRow(material, pack, limit, not place, starter) for place, pack in places]


def starter_limits(material: Material) -> list[str]:
    """Least radii that are remembered or invented."""
    return [name for name, fact in material.facts.items() if "least_radius" in name and fact.sure == "memory"]


def lacks_of(material: Material, today: date) -> set[str]:
    """Of: supplier, price, lead, limit; starter_price and starter for figures nobody stands for."""
    prices = [pack.price_on(today) for pack in material.packs]
    limit = LIMITS[material.kind] if material.kind in ALWAYS_ASKED else ""
    lacks = {
        "supplier": material.supplier is None,
        "price": not prices or None in prices,
        "lead": term_in_force(material.lead_terms, today) is None,
        "limit": bool(limit) and material.trim_limit(limit) is None,
        "starter_price": any(price is not None and price.source == INVENTED_PRICE for price in prices),
        "starter": bool(starter_limits(material)),
    }
    return {name for name, is_so in lacks.items() if is_so}


def lead_text(term: LeadTerm) -> str:
    """A lead time in a cell: "15 + 2", or "10 calendar days + 2".

    >>> lead_text(LeadTerm(15, "workdays", 2, "telephone", date(2026, 11, 2)))
    '15 + 2'
    """
    days = str(term.production_days) if term.production_counts == "workdays" else term.production.in_words()
    return f"{days} + {term.transit_workdays}"


@dataclass(frozen=True)
class TypedRow:
    """cells: those typed in, by name, as typed."""

    key: str
    row: GridRow
    cells: Mapping[str, str]


Problem = tuple[str, str, DocumentProblem]


@transaction.atomic
@counted_once()
def store_cells(typed: Iterable[TypedRow], today: date, bare_unit: BareLengthUnit = "in") -> list[Problem]:
    """Store every typed cell, or nothing: then what is wrong comes back as row, cell and problem."""
    by_code: dict[str, list[TypedRow]] = defaultdict(list)
    for one in typed:
        by_code[one.row.material.code].append(one)
    stored = materials_with_parts().select_for_update().in_bulk(by_code, field_name="code")
    sellers = {
        word.casefold(): code for code, name in Supplier.objects.values_list("code", "name") for word in (name, code)
    }
    problems: list[Problem] = []
    materials: list[MaterialEntry] = []
    for code, rows in by_code.items():
        document = write(stored[code].entry())
        wrong = [problem for one in rows for problem in _lay(document, one, sellers, today)]
        problems += wrong
        if not wrong:
            try:
                materials.append(_read(document, bare_unit, sellers))
            except DocumentError as error:
                problems += [_placed(rows, document, problem) for problem in error.complaints]
    if not problems:
        store_materials(materials)
    return problems


def _read(document: dict[str, Any], bare_unit: BareLengthUnit, sellers: Mapping[str, str]) -> MaterialEntry:
    material = read(MaterialEntry, entry_reader(document, bare_unit=bare_unit))
    if complaints := list(material_complaints(material, "", set(sellers.values()))):
        raise DocumentError(complaints)
    return material


def _lay(document: dict[str, Any], typed: TypedRow, sellers: Mapping[str, str], today: date) -> Iterable[Problem]:
    """The cells of a row over the document of its material; what is wrong in them before it is read."""
    row, cells = typed.row, {name: value.strip() for name, value in typed.cells.items()}
    price, term, limit = row.figures(today)
    wrong = {name: NOT_EMPTIED for name in ("price", "lead") if cells.get(name) == ""}
    said = cells.pop("source", None)
    if said is not None and not cells:
        _say_source(document, row, said, today)
        return
    if "supplier" in cells:
        document["supplier"] = sellers.get(cells["supplier"].casefold())
        if cells["supplier"] and document["supplier"] is None:
            wrong["supplier"] = f"“{cells['supplier']}” is not a supplier: choose one listed, or add it under Suppliers"
    for name, figure in (("price", price), ("lead", term), ("limit", limit)):
        if not cells.get(name):
            continue
        source = said if said is not None else figure.source if figure is not None else ""
        is_ours = said is not None or getattr(figure, "sure", "") != "memory"
        if (name != "price" and (source in NOBODYS or not is_ours)) or source == INVENTED_PRICE:
            wrong["source"] = NEEDS_SOURCE
        if name == "lead":
            wrong |= _lay_lead(document, cells[name], source, term, today)
        elif name == "price":
            _lay_price(document, row.pack, {"amount": cells[name], "starts_on": today.isoformat(), "source": source})
        else:
            sure = limit.sure if limit is not None and said is None else "firm"
            fact = {"value": cells[name], "source": source, "sure": sure, "stated_on": today.isoformat()}
            document["facts"][row.limit] = fact
    if cells.get("limit") == "":
        document["facts"].pop(row.limit, None)
    yield from ((typed.key, name, DocumentProblem(name, reason)) for name, reason in wrong.items())


def _lay_lead(document: dict[str, Any], text: str, source: str, was: LeadTerm | None, today: date) -> dict[str, str]:
    match = LEAD_RE.fullmatch(text)
    assert match is not None
    production, transit = match["production"].strip(), match["transit"]
    if transit is None and was is None:
        return {"lead": "lacks the days in transit: type both, such as 15 + 2, or 15 + 0"}
    document["lead_terms"].append(
        {
            "production": f"{production} working days" if production.isascii() and production.isdigit() else production,
            "transit_workdays": int(transit) if transit is not None else was and was.transit_workdays,
            "source": source,
            "stated_on": today.isoformat(),
        }
    )
    return {}


def _lay_price(document: dict[str, Any], pack: Pack | None, price: dict[str, Any]) -> None:
    entry = next(entry for entry in document["packs"] if pack is not None and entry["code"] == pack.code)
    others = [one for one in entry["prices"] if one["starts_on"] != price["starts_on"]]
    entry["prices"] = sorted([*others, price], key=lambda one: str(one["starts_on"]))


def _say_source(document: dict[str, Any], row: GridRow, said: str, today: date) -> None:
    """Typed alone, it is of the figure whose source the cell shows."""
    price, term, limit = row.figures(today)
    if limit is not None and row.limit in document["facts"] and (row.starter or not (price or term)):
        document["facts"][row.limit] |= {"source": said, "sure": "firm", "stated_on": today.isoformat()}
    elif price is not None:
        _lay_price(document, row.pack, {**write(price), "source": said})
    elif term is not None:
        document["lead_terms"].append({**write(term), "source": said, "stated_on": today.isoformat()})


def _placed(rows: Sequence[TypedRow], document: dict[str, Any], problem: DocumentProblem) -> Problem:
    """At the cell it is about; what is about none of them at the first that was typed."""
    cell = next((cell for path, cell in CELL_OF_PATH if problem.path.startswith(path)), "")
    cell = "source" if cell != "supplier" and problem.path.endswith(".source") else cell
    matches = [one for one in rows if cell in one.cells]
    if cell == "price":
        code = document["packs"][int(problem.path.partition("[")[2].partition("]")[0])]["code"]
        matches = [one for one in matches if one.row.pack is not None and one.row.pack.code == code]
    one = next(iter(matches), rows[0])
    return one.key, cell if cell in one.cells else next(iter(one.cells)), problem
