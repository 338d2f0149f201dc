"""A sheet for the bookkeeper, counted and added up."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.services.csv_writing import Cell, write_sheet

TOTAL = "total"
NOTHING = Decimal("0.00")
# Minutes are whole, all other sums are money.
NOUGHT: defaultdict[str, Decimal | int] = defaultdict(lambda: NOTHING, minutes=0)


@dataclass(frozen=True)
class Sheet:
    """columns: the first names the row. sums: the columns added up in the last line, which counts the rows as well.

    rows: of a month, those of its own days or those that came after an earlier month was closed; for None both.
    """

    name: str
    label: str
    columns: tuple[str, ...]
    sums: tuple[str, ...]
    rows: Callable[[date, bool | None], Iterable[Sequence[Cell]]]


@dataclass(frozen=True)
class Filled:
    """count, sums: as its last line says them."""

    sheet: Sheet
    rows: tuple[tuple[Cell, ...], ...]

    @property
    def sums(self) -> dict[str, Decimal | int]:
        places = {name: self.sheet.columns.index(name) for name in self.sheet.sums}
        return {name: sum((_number(row[at]) for row in self.rows), NOUGHT[name]) for name, at in places.items()}

    def content(self) -> bytes:
        columns = self.sheet.columns
        last: dict[str, Cell] = self.sums | {columns[0]: TOTAL, columns[1]: len(self.rows)}
        return write_sheet(columns, [*(dict(zip(columns, row, strict=True)) for row in self.rows), last])


def filled(sheet: Sheet, month: date, later: bool | None = False) -> Filled:
    """later: what counts in the month and happened in an earlier one, which was closed by then; None for both."""
    return Filled(sheet, tuple(tuple(row) for row in sheet.rows(month, later)))


def _number(cell: Cell) -> Decimal | int:
    return cell if isinstance(cell, Decimal | int) else 0
