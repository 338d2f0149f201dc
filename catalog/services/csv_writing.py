"""A sheet written: UTF-8, commas, CRLF (RFC 4180); days by ISO 8601, figures with a point, no value as no text."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal

# A spreadsheet runs a cell that begins with one of these.
STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")
Cell = str | date | Decimal | int | None


def write_sheet(columns: Sequence[str], rows: Iterable[Mapping[str, Cell]]) -> bytes:
    text = io.StringIO(newline="")
    sheet = csv.writer(text)
    sheet.writerow(columns)
    sheet.writerows([_cell(cells.get(column)) for column in columns] for cells in rows)
    return text.getvalue().encode()


def _cell(value: Cell) -> str:
    """Only text could be run as a formula; figures and days are plain."""
    match value:
        case None:
            return ""
        case str():
            return shielded(value)
        case Decimal():
            return format(value, "f")
    return str(value)


def shielded(text: str) -> str:
    """With an apostrophe before what a spreadsheet would run; `unshielded` takes off exactly that one."""
    return f"'{text}" if text.startswith((*STARTS_A_FORMULA, "'")) else text


def unshielded(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and cell[1:].startswith((*STARTS_A_FORMULA, "'")) else cell
