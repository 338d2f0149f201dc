"""A CSV file as rows of named cells. Whatever is wrong with the file itself is told by its line."""

import csv
import io
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

from catalog.services.csv_columns import COLUMNS
from catalog.services.csv_writing import unshielded

MAX_BYTES = 10 * 1024 * 1024
MAX_ROWS = 20_000


@dataclass(frozen=True)
class LineError:
    """What is wrong, where: line 1 is the headings; column is empty when the whole line or file is meant."""

    line: int
    column: str
    reason: str

    def __str__(self) -> str:
        return f"line {self.line}{f', {self.column}' if self.column else ''}: {self.reason}"


class SheetError(ValueError):
    """A file that cannot be read as a sheet at all."""

    def __init__(self, line: int, reason: str) -> None:
        self.error = LineError(line, "", reason)
        super().__init__(str(self.error))


@dataclass(frozen=True)
class Row:
    line: int
    cells: dict[str, str]


def read_sheet(content: bytes, columns: Sequence[str] = COLUMNS, needed: Sequence[str] = ("code",)) -> list[Row]:
    """columns: those known; needed: those no row can do without. Raises SheetError."""
    lines = _lines(_text(content))
    first = next(lines, None)
    if first is None:
        raise SheetError(1, "the file is empty; its first line must hold the names of the columns")
    headings = [cell.strip() for cell in first[1]]
    _check_headings(headings, columns, needed)
    rows = []
    for line, cells in lines:
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != len(headings):
            raise SheetError(line, f"has {len(cells)} cells and the headings are {len(headings)}; is it cut off?")
        rows.append(Row(line, dict(zip(headings, map(unshielded, cells), strict=True))))
        if len(rows) > MAX_ROWS:
            raise SheetError(line, f"the file has more than {MAX_ROWS:,} rows; split it")
    if not rows:
        raise SheetError(2, "there is no row under the headings")
    return rows


def by_code(rows: Iterable[Row], errors: list[LineError]) -> dict[str, list[Row]]:
    """The rows of each code together; one without a code is an error."""
    result: dict[str, list[Row]] = {}
    for row in rows:
        result.setdefault(row.cells["code"], []).append(row)
    errors += [LineError(row.line, "code", "is empty") for row in result.pop("", ())]
    return result


def differing(rows: Sequence[Row], columns: Collection[str], of: str) -> Iterator[LineError]:
    """Cells that are neither empty nor as in the first row, where all rows are of the same."""
    first = rows[0]
    for row in rows[1:]:
        for column, cell in row.cells.items():
            if column in columns and cell not in ("", first.cells[column]):
                yield LineError(row.line, column, f"differs from line {first.line}, which is the same {of}")


def _text(content: bytes) -> str:
    if len(content) > MAX_BYTES:
        raise SheetError(1, f"the file is {len(content) / 1024 / 1024:.1f} MB; at most 10 MB can be read")
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise SheetError(1, "the file is UTF-16; save it as CSV UTF-8")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        reason = f"byte {content[error.start]:#04x} is not UTF-8; save the file as CSV UTF-8"
        raise SheetError(line, reason) from error
    if "\0" in text:
        raise SheetError(text.count("\n", 0, text.index("\0")) + 1, "holds a NUL character; the file is damaged")
    if text and not text.endswith(("\n", "\r")):
        raise SheetError(text.count("\n") + 1, "the last line has no line end; the file seems to be cut off")
    return text


def _lines(text: str) -> Iterator[tuple[int, list[str]]]:
    sheet = csv.reader(io.StringIO(text, newline=""), strict=True)
    while True:
        line = sheet.line_num + 1
        try:
            cells = next(sheet)
        except StopIteration:
            return
        except csv.Error as error:
            if "unexpected end" in str(error):
                raise SheetError(line, "a quotation mark opened here is never closed") from error
            raise SheetError(line, f"is not CSV: {error}") from error
        yield line, cells


def _check_headings(headings: list[str], columns: Sequence[str], needed: Sequence[str]) -> None:
    if len(headings) == 1 and any(mark in headings[0] for mark in ";\t|"):
        raise SheetError(1, "the cells are not separated by commas; save the file as comma-separated CSV")
    twice = [name for name, count in Counter(headings).items() if count > 1]
    if twice:
        raise SheetError(1, f"the heading {_shown(twice[0])} is there twice")
    unknown = [name for name in headings if name not in columns]
    if unknown:
        raise SheetError(1, f"{_shown(unknown[0])} is not a column known here; an export shows them all")
    missing = [name for name in needed if name not in headings]
    if missing:
        raise SheetError(1, f"the column {missing[0]} is missing; it names each row")


def _shown(text: str) -> str:
    return f'"{text[:40]}"'
