"""The table of builds side by side, and what each changes, in words and figures ready to show."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from catalog.core.ground.plain_text import half_up
from catalog.core.materials.specs import KINDS
from jobs.walls.pages.quantities import with_unit
from quoting.core.quotes.comparison import Build, Comparison, Difference, KindBought
from quoting.platform.screen_days import day_words

RISK_LABELS = (("gap", "Gaps to fill"), ("decide", "Decisions to take"), ("caution", "Cautions"))
NOT_KNOWN = "not known"


@dataclass(frozen=True)
class Cell:
    """main: the figure; difference: against the build as it stands; lines: small print, a line each.

    build: the name of the build it stands under.
    """

    main: str = ""
    difference: str = ""
    lines: tuple[str, ...] = ()
    build: str = ""

    @property
    def is_gap(self) -> bool:
        return self.main == NOT_KNOWN


@dataclass(frozen=True)
class Row:
    group: str
    label: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class ChangeLine:
    name: str
    before: str
    after: str
    cost: str


def rows_of(compared: Comparison, *, with_price: bool) -> list[Row]:
    builds = (compared.present, *compared.builds)
    rows = (*_totals(builds, with_price), *_kinds(builds), *_not_stocked(builds), *_risks(builds))
    names = [build.name for build in builds]
    return [replace(row, cells=tuple(map(_under, row.cells, names))) for row in rows]


def _under(cell: Cell, build: str) -> Cell:
    return replace(cell, build=build)


def _totals(builds: Sequence[Build], with_price: bool) -> Iterator[Row]:
    group = "Money and days"
    yield Row(group, "Cost of materials", _amounts([one.material_cost for one in builds]))
    if with_price:
        yield Row(group, "Price before tax", _amounts([one.price for one in builds]))
        yield Row(group, "Total with tax", _amounts([one.total for one in builds]))
    hours = [None if one.hours is None else half_up(Decimal(repr(one.hours)), 1) for one in builds]
    yield Row(group, "Hours of work", _figures(hours, lambda value: f"{value:,} h"))
    yield Row(group, "Finished on", tuple(Cell(day_words(one.finish) if one.finish else NOT_KNOWN) for one in builds))


def _kinds(builds: Sequence[Build]) -> Iterator[Row]:
    bought = [{one.kind: one for one in build.kinds} for build in builds]
    for kind in dict.fromkeys(kind for found in bought for kind in found):
        costs = _amounts([_cost(found.get(kind)) for found in bought])
        yield Row(
            "Materials by kind",
            KINDS[kind],
            tuple(
                Cell(cell.main, cell.difference, _bought_otherwise(found, bought[0], kind))
                if kind in found
                else Cell("none")
                for cell, found in zip(costs, bought, strict=True)
            ),
        )


def _cost(found: KindBought | None) -> Decimal | None:
    return Decimal("0.00") if found is None else found.cost


def _bought_otherwise(found: Mapping[str, KindBought], present: Mapping[str, KindBought], kind: str) -> tuple[str, ...]:
    """What is bought, left out where it is the same as in the build as it stands."""
    lines = _bought(found[kind])
    return () if found is not present and kind in present and lines == _bought(present[kind]) else lines


def _bought(found: KindBought) -> tuple[str, ...]:
    return tuple(f"{one.name}, {_quantity(one.buy, one.unit)}" for one in found.purchases)


def _not_stocked(builds: Sequence[Build]) -> Iterator[Row]:
    needs = [{need.material: need for need in build.long_lead} for build in builds]
    for code in dict.fromkeys(code for found in needs for code in found):
        name = next(found[code].name for found in needs if code in found)
        cells = []
        for found in needs:
            need = found.get(code)
            if need is None:
                cells.append(Cell("none"))
            else:
                in_hand = () if need.in_hand is None else (_days_in_hand(need.in_hand),)
                cells.append(Cell(day_words(need.dates.order_by) if need.dates else NOT_KNOWN, "", in_hand))
        yield Row("Not stocked, to be ordered by", name, tuple(cells))


def _days_in_hand(days: int) -> str:
    count = "1 working day" if abs(days) == 1 else f"{abs(days)} working days"
    return f"{count} {'late' if days < 0 else 'in hand'}"


def _risks(builds: Sequence[Build]) -> Iterator[Row]:
    for weight, label in RISK_LABELS:
        counts = [Decimal(one.risks[weight]) for one in builds]  # type: ignore[index]
        yield Row("To know", label, _figures(counts, str))


def _amounts(values: Sequence[Decimal | None]) -> tuple[Cell, ...]:
    return _figures(values, lambda value: f"{value:,.2f}")


def _figures(values: Sequence[Decimal | None], write: Callable[[Decimal], str]) -> tuple[Cell, ...]:
    present = values[0]
    return tuple(
        Cell(NOT_KNOWN)
        if value is None
        else Cell(write(value), "" if present is None or value == present else _signed(value - present, write))
        for value in values
    )


def _signed(value: Decimal, write: Callable[[Decimal], str]) -> str:
    return f"{'+' if value > 0 else '−'}{write(abs(value))}"


def changes_of(build: Build) -> list[ChangeLine]:
    bought = [_change(one, _signed_cost(one)) for one in build.purchases]
    return [*bought, *(_change(one, "") for one in build.steps)]


def _signed_cost(one: Difference) -> str:
    if one.cost is None:
        return NOT_KNOWN
    return _signed(one.cost, lambda value: f"{value:,.2f}") if one.cost else "0.00"


def _change(one: Difference, cost: str) -> ChangeLine:
    return ChangeLine(one.name, _quantity(one.before, one.unit), _quantity(one.after, one.unit), cost)


def _quantity(value: Decimal | None, unit: str) -> str:
    return "none" if value is None else with_unit(value, unit)
