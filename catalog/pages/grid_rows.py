"""The rows of the catalog's grid: what the filters take of it, and the cells that were typed in."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any, NamedTuple

from django.http import QueryDict

from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import plain
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import KINDS, PROPERTIES, Material
from catalog.models import LeadTerm, MaterialFact, Pack, Price
from catalog.models import Material as MaterialRow
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
    "starter": ("with starter limits", "are starter figures"),
}
OF_ONE = {"need": "needs", "have": "has", "are": "is"}
WORDS = (
    ("lacks", "Show materials", {"": "of any state"} | {name: shown for name, (shown, _) in LACKS.items()}),
    ("kind", "of", {"": "every kind"} | {kind: label.lower() for kind, label in KINDS.items()}),
    ("aside", "", {"": "on offer", "yes": "and those set aside"}),
)


@dataclass(frozen=True)
class StoredCells(Stored):
    """of: the row they are of; what changed a cell stands in the history of its own table."""

    of: GridRow | None = None

    def changed_by(self, name: str, version: str) -> str:
        assert self.of is not None
        code = self.of.material.code
        if name in ("price", "source") and self.of.pack is not None:
            entries = Price.history.filter(pack__material__code=code, pack__code=self.of.pack.code)
        elif name == "supplier":
            entries = MaterialRow.history.filter(code=code)
        else:
            entries = (MaterialFact if name == "limit" else LeadTerm).history.filter(material__code=code)
        entry = entries.select_related("history_user").first()
        return str((entry and entry.history_user) or "Somebody")


class CellForm(EntryForm):
    """The cells of a row that were typed in; one that came as it was seen is nobody's entry."""

    supplier = text("Supplier", longest=200)
    price = text("Price", longest=20)
    lead = text("Lead days", longest=60)
    limit = text("Least radius", longest=40)
    source = text("Source")

    def __init__(self, data: QueryDict, key: str, row: GridRow, values: Mapping[str, str]) -> None:
        seen = data.get(f"{key}-{VERSION}", "")
        sent = {name: data[f"{key}-{name}"] for name in values if f"{key}-{name}" in data}
        # A cell that was typed in has not the mark it was sent with.
        typed = {name: values[name] for name, value in sent.items() if Stored({name: value}).changed_since(seen)}
        super().__init__(data, stored=StoredCells(typed, of=row), prefix=key)
        for name in self.base_fields.keys() - typed.keys():
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
    about: Mapping[str, Any]
    row: GridRow
    values: Mapping[str, str]
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
        if self.form is None or name not in self.form.fields:
            return Cell(name, label, self.values[name], False, [])
        shown = self.form.data.get(f"{self.key}-{name}", self.values[name])
        return Cell(name, label, shown, True, list(self.form.errors.get(name, ())))


@dataclass
class Grid:
    """The rows the filters take, of the catalog as it stands. posted: ids of materials shown whatever they are."""

    query: QueryDict
    posted: frozenset[int] = frozenset()
    today: date = field(default_factory=lambda: day_at_the_firm(clock.now()))

    @cached_property
    def filters(self) -> dict[str, str]:
        """What the sentence above says: lacks, kind, supplier, aside; q: words that are sought."""
        known = {name: among for name, _, among in WORDS} | {"supplier": self.names}
        chosen = {name: self.query.get(name, "") for name in known}
        chosen = {name: value if value in known[name] else "" for name, value in chosen.items()}
        return chosen | {"q": self.query.get("q", "")[:100]}

    @property
    def page(self) -> int:
        page = self.query.get("page", "")
        return int(page) if page.isascii() and page.isdigit() and len(page) < 5 and int(page) else 1

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

    @property
    def every_pack(self) -> bool:
        """Whether every size of a material has a row of its own."""
        return bool(self.filters["kind"] or self.filters["q"] or "price" in self.filters["lacks"])

    @cached_property
    def every_line(self) -> list[Line]:
        order, starter = list(KINDS), self.filters["lacks"] == "starter"
        taken = sorted(
            filter(self.takes, self.book.materials.values()),
            key=lambda one: (order.index(one.kind), one.own_kind, one.code),
        )
        return [self.line(row) for one in taken for row in rows_of(one, every_pack=self.every_pack, starter=starter)]

    @cached_property
    def lines(self) -> list[Line]:
        return self.every_line[(self.page - 1) * MOST_ROWS : self.page * MOST_ROWS]

    def takes(self, material: Material) -> bool:
        filters, about = self.filters, self.about[material.code]
        words = f"{material.code} {material.name} {about['note']} {self.names.get(material.supplier or '', '')}".lower()
        return about["pk"] in self.posted or (
            (not filters["lacks"] or filters["lacks"] in self.lacks[material.code])
            and filters["kind"] in ("", material.kind)
            and filters["supplier"] in ("", material.supplier)
            and (about["active"] or bool(filters["aside"]))
            and all(word in words for word in filters["q"].lower().split())
        )

    def line(self, row: GridRow) -> Line:
        about = self.about[row.material.code]
        pack = self.packs[about["pk"], row.pack.code] if row.pack else 0
        plan, stale = standing_plan(row.material, self.today) if row.is_first else (None, False)
        planned = plan.plan_workdays if plan is not None and not stale else None
        key = f"{about['pk']}-{pack}" + (f"-{row.limit}" if row.starter and row.is_first else "")
        return Line(key, about, row, self.values(row), planned)

    def values(self, row: GridRow) -> dict[str, str]:
        price, term, limit = row.figures(self.today)
        values = {"price": _amount(price.amount) if price else ""} if row.pack is not None else {}
        if row.is_first:
            values["supplier"] = self.names.get(row.material.supplier or "", "")
            values["lead"] = lead_text(term) if term else ""
        if row.is_first and row.limit:
            values["limit"] = length_entry(limit.number, self.book.firm.display_units) if limit else ""
        return values | {"source": row.source(self.today)}

    def counts(self) -> list[tuple[str, str]]:
        """How many materials on offer lack what, and how many limits are starter figures, each with its filter."""
        offered = [code for code, about in self.about.items() if about["active"]]
        counts = {lack: sum(lack in self.lacks[code] for code in offered) for lack in LACKS}
        counts["starter"] = sum(len(starter_limits(self.book.materials[code])) for code in offered)
        return [(lack, _counted(lack, count, len(offered))) for lack, count in counts.items() if count]


def _counted(lack: str, count: int, of: int) -> str:
    verb, _, rest = LACKS[lack][1].partition(" ")
    what = f"limit{'' if count == 1 else 's'}" if lack == "starter" else f"of {of}"
    rest = "a starter figure" if lack == "starter" and count == 1 else rest
    return f"{count} {what} {OF_ONE[verb] if count == 1 else verb} {rest}"


def _amount(price: Decimal) -> str:
    """As printed; a price in parts of a cent with all its digits."""
    return formatting.amount_words(price) if price == to_cents(price) else plain(price) or ""
