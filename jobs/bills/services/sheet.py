"""Bills from a file: a row a line of a bill. First what it would do, with errors by line; then all of it or nothing."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.declared import Whole, entries_of
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.services.csv_reading import LineError, Row, SheetError, differing, read_sheet
from catalog.services.csv_writing import write_sheet
from catalog.services.sheets.previews import digest, refuse_other_file, sha256_of
from jobs.bills.models import Bill
from jobs.bills.services.differences import Differs
from jobs.bills.services.entering import enter_bill
from jobs.bills.services.reading import EnteredDraft
from jobs.bills.services.reading_lines import NewBillLine
from jobs.core.costs.bills import number_key
from quoting.platform.people.signatures import Signature

HEAD = tuple(entry.name for entry in entries_of(EnteredDraft) if entry.name not in ("lines", "accept"))
LINE = tuple(entry.name for entry in entries_of(NewBillLine))
COLUMNS = (*HEAD, *LINE)
# Whole numbers in a document; a cell is text.
IDS = tuple(entry.name for entry in entries_of(NewBillLine) if isinstance(entry.kind, Whole))
NEEDED = ("number", "total")


@dataclass(frozen=True)
class SheetBill:
    """One bill of the file. lines: the line of the file that each of its own lines stands on."""

    at: int
    document: dict[str, Any]
    lines: tuple[int, ...]


@dataclass(frozen=True)
class Outcome:
    """What the file does. kept: bills entered before by the same rows. differs: sentences somebody must accept."""

    sha256: str
    new: tuple[Bill, ...] = ()
    kept: tuple[Bill, ...] = ()
    differs: tuple[str, ...] = ()
    errors: tuple[LineError, ...] = ()


class _Undo(Exception):
    pass


def columns() -> bytes:
    """A sheet with nothing but its headings."""
    return write_sheet(COLUMNS, ())


def preview(content: bytes, signature: Signature, *, now: datetime) -> Outcome:
    """What the file would do; nothing of it is kept."""
    outcomes: list[Outcome] = []
    try:
        with transaction.atomic():
            outcomes.append(_done(content, signature, now))
            raise _Undo
    except _Undo:
        return outcomes[0]


def apply(content: bytes, sha256: str, accept: Collection[str], signature: Signature, *, now: datetime) -> Outcome:
    """This very file, all of it or nothing. Raises Refused; Differs while a sentence is not accepted."""
    with transaction.atomic():
        outcome = _done(content, signature, now)
        refuse_other_file(outcome, sha256)
        if not set(outcome.differs) <= set(accept):
            raise Differs(*outcome.differs)
        return outcome


def _done(content: bytes, signature: Signature, now: datetime) -> Outcome:
    sha256, errors = sha256_of(content), list[LineError]()
    try:
        sheet_bills = list(_bills(read_sheet(content, COLUMNS, NEEDED), errors))
    except SheetError as error:
        return Outcome(sha256, errors=(error.error,))
    new, bills, differs = list[Bill](), list[Bill](), list[str]()
    for entry in sheet_bills:
        try:
            bill, is_new, sentences = _entered(entry.document, signature, now)
        except DocumentError as error:
            errors += [_at(entry, complaint.path, complaint.reason) for complaint in error.complaints]
        except Refused as refusal:
            errors += [LineError(entry.at, "", sentence) for sentence in refusal.sentences]
        else:
            (new if is_new else bills).append(bill)
            differs += sentences
    errors.sort(key=lambda error: error.line)
    return Outcome(sha256, tuple(new), tuple(bills), tuple(dict.fromkeys(differs)), tuple(errors))


def _entered(document: dict[str, Any], signature: Signature, now: datetime) -> tuple[Bill, bool, tuple[str, ...]]:
    """With what differs taken as accepted: whoever applies the file has accepted each sentence."""
    try:
        return *enter_bill(document, signature, now=now), ()
    except Differs as differs:
        sentences = differs.sentences
    return *enter_bill({**document, "accept": list(sentences)}, signature, now=now), sentences


def _bills(rows: list[Row], errors: list[LineError]) -> Iterator[SheetBill]:
    by_bill: dict[tuple[str, ...], list[Row]] = {}
    for row in rows:
        cells = {name: cell.strip() for name, cell in row.cells.items()}
        seller = (cells.get("supplier", ""), cells.get("shop", "").casefold(), cells.get("kind", ""))
        by_bill.setdefault((*seller, number_key(cells["number"])), []).append(Row(row.line, cells))
    for mine in by_bill.values():
        errors.extend(differing(mine, {*HEAD} - {"number"}, "bill"))
        yield _bill(mine)


def _bill(rows: list[Row]) -> SheetBill:
    head = {name: rows[0].cells[name] for name in HEAD if rows[0].cells.get(name)}
    lines = [(row.line, _line(row)) for row in rows]
    lines = [(at, line) for at, line in lines if line]
    document = {**head, "lines": [line for _, line in lines]}
    return SheetBill(
        rows[0].line, {"request_key": f"file {digest(document)}", **document}, tuple(at for at, _ in lines)
    )


def _line(row: Row) -> dict[str, Any]:
    document: dict[str, Any] = {name: row.cells[name] for name in LINE if row.cells.get(name)}
    for name in IDS:
        if name in document and document[name].isascii() and document[name].isdigit() and len(document[name]) < 16:
            document[name] = int(document[name])
    return document


def _at(bill: SheetBill, path: str, reason: str) -> LineError:
    head, _, leaf = path.partition(".")
    number = head.removeprefix("lines[").removesuffix("]")
    if head.startswith("lines[") and number.isdigit() and int(number) < len(bill.lines):
        return LineError(bill.lines[int(number)], leaf, reason)
    return LineError(bill.at, head, reason)
