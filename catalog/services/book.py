from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from functools import lru_cache
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from catalog.core.ground.refusal import Refused
from catalog.core.materials import specs, standards
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.offers import offers_by
from catalog.models import (
    Closure,
    Firm,
    KitEntry,
    LeadTerm,
    Material,
    MaterialFact,
    OrderTerms,
    Pack,
    PlannedLead,
    Price,
    SpacingStep,
    Standard,
    Supplier,
)
from quoting.platform.models.row_graph import RowGraph, Rows, read_rows
from quoting.platform.read_once import read_once

BOOK = tuple(
    (model, "")
    for model in (
        Firm,
        KitEntry,
        Standard,
        SpacingStep,
        Supplier,
        OrderTerms,
        Closure,
        Material,
        MaterialFact,
        Pack,
        Price,
        LeadTerm,
        PlannedLead,
    )
)
# What is left out of the book of a day before it: the table, what it belongs to, and the column with its day.
SAID_ON = (
    (Price, "pack", "starts_on"),
    (LeadTerm, "material", "stated_on"),
    (PlannedLead, "material", "accepted_on"),
)


class NoFirmYet(Refused):
    """Nothing can be worked out before the firm is entered."""

    def __init__(self) -> None:
        super().__init__("The firm is not entered yet: its name, time zone, currency and usual days are needed first.")


def book_of(on_day: date | None = None) -> Catalog:
    """The whole catalog as one core value, in a constant number of queries, once a page.

    With a day, what was priced, promised or accepted for planning only after it is left out.
    """
    return read_once(("book", on_day), lambda: _book(read_rows(BOOK), on_day))


@lru_cache(maxsize=8)
def _book(rows: Rows, on_day: date | None) -> Catalog:
    graph = RowGraph(BOOK, rows)
    if not graph[Firm]:
        raise NoFirmYet
    graph.hang(OrderTerms, "supplier")
    graph.hang(Closure, "supplier")
    graph.hang(Pack, "material")
    graph.hang(MaterialFact, "material")
    for table, by, since in SAID_ON:
        graph.hang(
            table, by, stored=[entry for entry in graph[table] if on_day is None or _by(getattr(entry, since), on_day)]
        )
    closures = tuple(entry.to_core() for entry in graph[Closure] if entry.supplier_id is None)
    return Catalog(
        graph[Firm][0].to_core(closures, _kit(graph[KitEntry])),
        _standards(graph[Standard], graph[SpacingStep]),
        {row.code: row.to_core() for row in graph[Supplier]},
        {row.code: _material(row, on_day) for row in graph[Material]},
    )


def _by(said_on: date | None, day: date) -> bool:
    return said_on is not None and said_on <= day


def _material(row: Material, on_day: date | None) -> specs.Material:
    return row.to_core() if on_day is None else offers_by(row.to_core(), on_day)


def materials_with_parts() -> QuerySet[Material]:
    return Material.objects.prefetch_related("packs__prices", "facts", "lead_terms", "planned_leads")


def zone_of_the_firm() -> ZoneInfo | None:
    return read_once("zone", _zone)


def _zone() -> ZoneInfo | None:
    row = _firm_row()
    return row.zone if row else None


def _firm_row() -> Firm | None:
    return read_once("row of the firm", Firm.objects.first)


def name_of_the_firm() -> str:
    row = _firm_row()
    return row.name if row else ""


def firm_of() -> specs.Firm:
    return read_once("firm", _firm)


def _firm() -> specs.Firm:
    row = _firm_row()
    if row is None:
        raise NoFirmYet
    closures = tuple(entry.to_core() for entry in Closure.objects.filter(supplier=None))
    return row.to_core(closures, kit_of())


def kit_of() -> dict[str, tuple[str, ...]]:
    return _kit(KitEntry.objects.all())


def _kit(entries: Iterable[KitEntry]) -> dict[str, tuple[str, ...]]:
    words: dict[str, list[str]] = defaultdict(list)
    for entry in entries:
        words[entry.role].append(entry.material_id)
    return {role: tuple(words[role]) for role in specs.ROLES if role in words}


def standards_of() -> standards.Standards:
    return read_once("standards", lambda: _standards(Standard.objects.all(), SpacingStep.objects.all()))


def _standards(rows: Iterable[Standard], steps: Iterable[SpacingStep]) -> standards.Standards:
    return standards.Standards({row.name: row.to_core() for row in rows}, tuple(step.to_core() for step in steps))
