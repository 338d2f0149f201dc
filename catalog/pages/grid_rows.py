"""The rows of the catalog's grid: what the filters take of it, and the cells that were typed in."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any, NamedTuple

from django.http import QueryDict

from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import System
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import KINDS, PROPERTIES, Material
from catalog.models import Material as MaterialRow
from catalog.models import Pack
from catalog.pages.words import length_entry
from catalog.services.book import book_of
from catalog.services.grid import LIMITS, GridRow, lacks_of, lead_text, rows_of, starter_limits
from catalog.services.planned_leads import standing_plan
from quoting.platform import clock, formatting
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import VERSION, EntryForm, text
from quoting.platform.pages.stored_values import Stored

MOST_ROWS = 45
# What a material lacks: as a filter says it, and as it is counted.
LACKS = {
    "supplier": ("without a supplier", "need a supplier"),
    "lead": ("without a lead time", "need a lead time"),
    "price": ("without a price", "need a price"),
    "limit": ("without a limit", "need a limit"),
    "starter_price": ("at a starter price", "have a starter price"),
    "starter": ("with starter limits", ""),
}
# With these every pack has a row of its own.
OF_PACKS = ("price", "starter_price")


class CellForm(EntryForm):
    """The cells of a row that were typed in; one that came as it was seen is nobody's entry."""

    supplier = text("Supplier", longest=200)
    price = text("Price", longest=20)
    lead = text("Lead days", longest=60)
    limit = text("Least radius", longest=40)
    source = text("Source")

    def __init__(self, data: QueryDict, key: str, stored: Stored) -> None:
        seen = data.get(f"{key}-{VERSION}", "")
        typed = {name: data[f"{key}-{name}"] for name in stored.values if f"{key}-{name}" in data}
        cells = {name: stored.values[name] for name, value in typed.items() if not was_seen(name, value, seen)}
        super().__init__(data, stored=Stored(cells), prefix=key)
        for name in self.base_fields.keys() - cells.keys():
            del self.fields[name]

    def cells(self) -> dict[str, str]:
        return {name: self.cleaned_data[name] for name in self.base_fields if name in self.cleaned_data}


class Cell(NamedTuple):
    """typed: it holds what somebody typed and is not stored yet."""

    name: str
    label: str
    shown: str
    typed: bool
    errors: list[str]


@dataclass
class Line:
    """A row of the grid as the page shows it. form: of what was typed, None where nothing was."""

    key: str
    row_id: int
    row: GridRow
    values: Mapping[str, str]
    aside: bool
    planned: int | None
    form: CellForm | None = None

    @property
    def name(self) -> str:
        return self.row.material.name

    @property
    def label(self) -> str:
        """Which limit it is, where it is not the usual one."""
        is_usual = self.row.limit == LIMITS.get(self.row.material.kind, "")
        return "" if is_usual or not (self.row.limit and self.row.is_first) else PROPERTIES[self.row.limit].label

    @property
    def seen(self) -> str:
        if self.form is not None and not self.form.is_late:
            return str(self.form.data.get(f"{self.key}-{VERSION}", ""))
        return Stored(self.values).version()

    @cached_property
    def cells(self) -> list[Cell | None]:
        """None where the row has no such cell."""
        return [self._cell(name, str(entry.label)) for name, entry in CellForm.base_fields.items()]

    def _cell(self, name: str, label: str) -> Cell | None:
        if name not in self.values:
            return None
        form, typed = self.form, self.form is not None and name in self.form.fields
        shown = (
            form.data.get(f"{self.key}-{name}", self.values[name]) if form is not None and typed else self.values[name]
        )
        return Cell(name, label, shown, typed, list(form.errors.get(name, ())) if form is not None else [])


@dataclass
class Filters:
    """What the sentence above the grid says."""

    lacks: str = ""
    kind: str = ""
    supplier: str = ""
    aside: str = ""
    q: str = ""
    page: int = 1

    @classmethod
    def of(cls, query: QueryDict) -> "Filters":
        def among(name: str, known: Iterable[str]) -> str:
            return query.get(name, "") if query.get(name, "") in known else ""

        page = query.get("page", "")
        return cls(
            among("lacks", LACKS),
            among("kind", KINDS),
            query.get("supplier", "")[:60],
            among("aside", ("yes",)),
            query.get("q", "")[:100],
            int(page) if page.isascii() and page.isdigit() and len(page) < 5 and int(page) else 1,
        )

    def takes(self, material: Material, about: Mapping[str, Any], lacks: set[str], names: Mapping[str, str]) -> bool:
        words = f"{material.code} {material.name} {about['note']} {names.get(material.supplier or '', '')}".lower()
        return (
            (not self.lacks or self.lacks in lacks)
            and self.kind in ("", material.kind)
            and self.supplier in ("", material.supplier)
            and (about["active"] or bool(self.aside))
            and all(word in words for word in self.q.lower().split())
        )

    @property
    def every_pack(self) -> bool:
        return bool(self.kind or self.q or self.lacks in OF_PACKS)


@dataclass
class Grid:
    """The rows the filters take, of the catalog as it stands. posted: ids of materials shown whatever they are."""

    filters: Filters
    posted: frozenset[int] = frozenset()
    today: date = field(default_factory=lambda: day_at_the_firm(clock.now()))

    @cached_property
    def book(self) -> Catalog:
        return book_of()

    @cached_property
    def about(self) -> dict[str, Mapping[str, Any]]:
        return {row["code"]: row for row in MaterialRow.objects.values("pk", "code", "note", "active")}

    @cached_property
    def packs(self) -> dict[tuple[int, str], int]:
        return {(material, code): pk for material, code, pk in Pack.objects.values_list("material_id", "code", "pk")}

    @cached_property
    def lacks(self) -> dict[str, set[str]]:
        return {code: lacks_of(material, self.today) for code, material in self.book.materials.items()}

    @cached_property
    def names(self) -> dict[str, str]:
        return {code: supplier.name for code, supplier in self.book.suppliers.items()}

    @cached_property
    def every_line(self) -> list[Line]:
        order = {kind: place for place, kind in enumerate(KINDS)}
        filters, stored = self.filters, self.book.materials.items()
        taken = [
            one
            for code, one in stored
            if self.about[code]["pk"] in self.posted
            or filters.takes(one, self.about[code], self.lacks[code], self.names)
        ]
        taken.sort(key=lambda one: (order[one.kind], one.own_kind, one.code))
        starter = filters.lacks == "starter"
        return [self.line(row) for one in taken for row in rows_of(one, every_pack=filters.every_pack, starter=starter)]

    @cached_property
    def lines(self) -> list[Line]:
        return self.every_line[(self.filters.page - 1) * MOST_ROWS : self.filters.page * MOST_ROWS]

    def line(self, row: GridRow) -> Line:
        about, code = self.about[row.material.code], row.pack.code if row.pack else ""
        pack = self.packs[about["pk"], code] if row.pack else 0
        plan, stale = standing_plan(row.material, self.today) if row.is_first else (None, False)
        planned = plan.plan_workdays if plan is not None and not stale else None
        key = f"{about['pk']}-{pack}" + (f"-{row.limit}" if self.filters.lacks == "starter" and row.is_first else "")
        return Line(key, about["pk"], row, self.values(row), not about["active"], planned)

    def values(self, row: GridRow) -> dict[str, str]:
        price, term, limit = row.figures(self.today)
        values = {"supplier": self.names.get(row.material.supplier or "", "")} if row.is_first else {}
        if row.pack is not None:
            values["price"] = _amount(price.amount) if price else ""
        if row.is_first:
            values["lead"] = lead_text(term) if term else ""
            if row.limit:
                values["limit"] = length_entry(limit.number, self.system) if limit else ""
        return values | {"source": row.source(self.today)}

    @property
    def system(self) -> System:
        return self.book.firm.display_units

    def counts(self) -> list[tuple[str, str]]:
        """How many materials on offer lack what, each with the filter that shows them."""
        offered = [code for code, about in self.about.items() if about["active"]]
        counts = []
        for lack, (_, words) in LACKS.items():
            count, of = sum(lack in self.lacks[code] for code in offered), "" if counts else f" of {len(offered)}"
            if lack == "starter":
                count, of = sum(len(starter_limits(self.book.materials[code])) for code in offered), ""
                words = "limits are starter figures" if count > 1 else "limit is a starter figure"
            elif count == 1:
                words = words.replace("need ", "needs ").replace("have ", "has ")
            if count:
                counts.append((lack, f"{count}{of} {words}"))
        return counts


def was_seen(name: str, typed: str, seen: str) -> bool:
    return name not in Stored({name: typed}).changed_since(seen)


def _amount(price: Decimal) -> str:
    """As printed; a price in parts of a cent with all its digits."""
    return formatting.amount_words(price) if price == to_cents(price) else plain(price) or ""
