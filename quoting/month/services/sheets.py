"""A sheet for the bookkeeper: UTF-8, commas, RFC 4180, days as ISO 8601, money with a point, counted and added up."""

import csv
import io
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.services.csv_columns import shielded

Cell = str | date | Decimal | int | None
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
        text = io.StringIO(newline="")
        lines = csv.writer(text)
        lines.writerow(self.sheet.columns)
        lines.writerows([_cell(entry) for entry in row] for row in self.rows)
        sums = self.sums
        last: list[Cell] = [sums.get(name) for name in self.sheet.columns]
        last[:2] = [TOTAL, len(self.rows)]
        lines.writerow(_cell(entry) for entry in last)
        return text.getvalue().encode()


def filled(sheet: Sheet, month: date, later: bool | None = False) -> Filled:
    """later: what counts in the month and happened in an earlier one, which was closed by then; None for both."""
    return Filled(sheet, tuple(tuple(row) for row in sheet.rows(month, later)))


def _number(cell: Cell) -> Decimal | int:
    return cell if isinstance(cell, Decimal | int) else 0


def _cell(value: Cell) -> str:
    """Text a spreadsheet would run stays text; numbers and days are plain."""
    match value:
        case None:
            return ""
        case date():
            return value.isoformat()
        case Decimal():
            return format(value, "f")
        case int():
            return str(value)
    return shielded(value)
