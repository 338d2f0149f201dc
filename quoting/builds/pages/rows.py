"""The table of builds side by side, and what each changes, in words and figures ready to show."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from catalog.core.ground.plain_text import half_up
from jobs.core.ordering.needs import DatedNeed
from jobs.walls.pages.quantities import with_unit
from quoting.core.quotes.comparison import Build, Comparison, Difference
from quoting.platform.screen_days import day_words

RISK_LABELS = (("gap", "Gaps to fill"), ("decide", "Decisions to take"), ("caution", "Cautions"))
NOT_KNOWN = "not known"


@dataclass(frozen=True)
class Cell:
    """main: the figure; note: against the build as it stands. build: the name of the build it stands under."""

    main: str
    note: str = ""
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
    """Money and days of every build; of the rest what is not alike in all of them."""
    builds = (compared.present, *compared.builds)
    others = (*_not_stocked(builds), *_risks(builds))
    rows = (*_totals(builds, with_price), *(row for row in others if len(set(row.cells)) > 1))
    names = [build.name for build in builds]
    return [Row(row.group, row.label, tuple(map(_under, row.cells, names))) for row in rows]


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
    days = (Cell(day_words(build.finish) if build.finish else NOT_KNOWN) for build in builds)
    yield Row(group, "Finished on", tuple(days))


def _not_stocked(builds: Sequence[Build]) -> Iterator[Row]:
    needs = [{need.material: need for need in build.long_lead} for build in builds]
    for code, name in dict.fromkeys((code, need.name) for result in needs for code, need in result.items()):
        yield Row("Not stocked, to be ordered by", name, tuple(_order_by(result.get(code)) for result in needs))


def _order_by(need: DatedNeed | None) -> Cell:
    if need is None:
        return Cell("none")
    in_hand = "" if need.in_hand is None else _days_in_hand(need.in_hand)
    return Cell(day_words(need.dates.order_by) if need.dates else NOT_KNOWN, in_hand)


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
