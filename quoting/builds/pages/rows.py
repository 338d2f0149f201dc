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
    yield Row(group, "Cost of materials", _amounts([build.material_cost for build in builds]))
    if with_price:
        yield Row(group, "Price before tax", _amounts([build.price for build in builds]))
        yield Row(group, "Total with tax", _amounts([build.total for build in builds]))
    hours = [None if build.hours is None else half_up(Decimal(repr(build.hours)), 1) for build in builds]
    yield Row(group, "Hours of work", _figures(hours, lambda value: f"{value:,} h"))
    yield Row(
        group, "Finished on", tuple(Cell(day_words(build.finish) if build.finish else NOT_KNOWN) for build in builds)
    )


def _kinds(builds: Sequence[Build]) -> Iterator[Row]:
    bought = [{entry.kind: entry for entry in build.kinds} for build in builds]
    for kind in dict.fromkeys(kind for kinds in bought for kind in kinds):
        costs = _amounts([_cost(kinds.get(kind)) for kinds in bought])
        yield Row(
            "Materials by kind",
            KINDS[kind],
            tuple(
                Cell(cell.main, cell.difference, _bought_otherwise(kinds, bought[0], kind))
                if kind in kinds
                else Cell("none")
                for cell, kinds in zip(costs, bought, strict=True)
            ),
        )


def _cost(bought: KindBought | None) -> Decimal | None:
    return Decimal("0.00") if bought is None else bought.cost


def _bought_otherwise(
    result: Mapping[str, KindBought], present: Mapping[str, KindBought], kind: str
) -> tuple[str, ...]:
    """What is bought, left out where it is the same as in the build as it stands."""
    lines = _bought(result[kind])
    return () if result is not present and kind in present and lines == _bought(present[kind]) else lines


def _bought(bought: KindBought) -> tuple[str, ...]:
    return tuple(f"{purchase.name}, {_quantity(purchase.buy, purchase.unit)}" for purchase in bought.purchases)


def _not_stocked(builds: Sequence[Build]) -> Iterator[Row]:
    needs = [{need.material: need for need in build.long_lead} for build in builds]
    for code in dict.fromkeys(code for result in needs for code in result):
        name = next(result[code].name for result in needs if code in result)
        cells = []
        for results in needs:
            need = results.get(code)
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
        counts = [Decimal(build.risks[weight]) for build in builds]  # type: ignore[index]
        yield Row("To know", label, _figures(counts, str))


def _amounts(values: Sequence[Decimal | None]) -> tuple[Cell, ...]:
    return _figures(values, lambda value: f"{value:,.2f}")


def _figures(values: Sequence[Decimal | None], write: Callable[[Decimal], str]) -> tuple[Cell, ...]:
    present = values[0]
    return tuple(
        Cell(NOT_KNOWN)
        if value is None
        else Cell(write(value), "" if present is None or value == present else signed(value - present, write))
        for value in values
    )


def signed(value: Decimal, write: Callable[[Decimal], str]) -> str:
    return f"{'+' if value > 0 else '−'}{write(abs(value))}"


def changes_of(build: Build) -> list[ChangeLine]:
    bought = [_change(purchase, _signed_cost(purchase)) for purchase in build.purchases]
    return [*bought, *(_change(step, "") for step in build.steps)]


def _signed_cost(difference: Difference) -> str:
    if difference.cost is None:
        return NOT_KNOWN
    return signed(difference.cost, lambda value: f"{value:,.2f}") if difference.cost else "0.00"


def _change(difference: Difference, cost: str) -> ChangeLine:
    return ChangeLine(
        difference.name,
        _quantity(difference.before, difference.unit),
        _quantity(difference.after, difference.unit),
        cost,
    )


def _quantity(value: Decimal | None, unit: str) -> str:
    return "none" if value is None else with_unit(value, unit)
