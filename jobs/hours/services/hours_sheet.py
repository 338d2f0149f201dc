"""Hours brought in from a sheet: tried first, each wrong line named, then all of it or nothing, once a file."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import QuerySet

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import EntryError
from catalog.services.csv_reading import LineError, Row, SheetError, read_sheet
from catalog.services.sheets.previews import refuse_other_file, sha256_of
from jobs.core.costs.hours import read_hours
from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services.day_limits import ASKS, questions
from jobs.hours.services.entering import keep
from jobs.hours.services.entry_lines import MAX_LINES, HourLine, LineReader
from quoting.platform.people.signatures import Signature

NEEDED = ("day", "worker", "hours")
COLUMNS = (*NEEDED, "job", "step", "elsewhere", "tag", "note", "sure")
COLUMN_OF = {"minutes": "hours"}
YES = "yes"


@dataclass(frozen=True)
class HoursPreview:
    """sha256: of the file. minutes: by worker. is_there: the file was brought in before."""

    sha256: str
    errors: tuple[LineError, ...] = ()
    lines: tuple[HourLine, ...] = field(default=(), repr=False)
    is_there: bool = False

    @property
    def minutes(self) -> dict[str, int]:
        result: defaultdict[str, int] = defaultdict(int)
        for line in self.lines:
            result[line.worker.name] += line.minutes
        return dict(sorted(result.items()))


@transaction.atomic
def preview_hours(content: bytes, signature: Signature, among: QuerySet[Worker]) -> HoursPreview:
    """What the file would enter, or every error by its line. Stores nothing."""
    sha256 = sha256_of(content)
    try:
        rows = read_sheet(content, COLUMNS, needed=NEEDED)
    except SheetError as error:
        return HoursPreview(sha256, (error.error,))
    if TimeEntry.objects.filter(request_key=key_of(sha256)).exists():
        return HoursPreview(sha256, is_there=True)
    if len(rows) > MAX_LINES:
        return HoursPreview(sha256, (LineError(rows[MAX_LINES].line, "", f"more than {MAX_LINES:,} rows; split it"),))
    lines, errors = _read(rows, signature, among)
    return HoursPreview(sha256, tuple(sorted(errors, key=lambda entry: entry.line)), tuple(lines))


@transaction.atomic
def apply_hours(
    content: bytes, sha256: str, signature: Signature, *, now: datetime, among: QuerySet[Worker]
) -> HoursPreview:
    """What was previewed: this very file, all of it or nothing; brought in before, it is there already."""
    hours = preview_hours(content, signature, among)
    refuse_other_file(hours, sha256)
    if not hours.is_there:
        keep(hours.lines, key_of(sha256), signature, now)
    return hours


def key_of(sha256: str) -> str:
    return f"sheet {sha256}"


def _read(rows: list[Row], signature: Signature, among: QuerySet[Worker]) -> tuple[list[HourLine], list[LineError]]:
    names = {name.casefold(): pk for pk, name in among.values_list("pk", "name")}
    reader = LineReader(signature.on, among)
    reader.hold(names.values())
    lines, errors, sure = [], list[LineError](), set[int]()
    for row in rows:
        try:
            lines.append(_line(row, names, reader))
            if _is_sure(row):
                sure.add(row.line)
        except DocumentError as error:
            errors += list(_at(row.line, error))
    return lines, errors or list(_asked(lines, sure))


def _asked(lines: list[HourLine], sure: set[int]) -> Iterable[LineError]:
    try:
        result = questions(lines)
    except DocumentError as error:
        for problem in error.complaints:
            place, _, name = problem.path.partition(".")
            yield LineError(int(place), COLUMN_OF.get(name, name), problem.reason)
        return
    for question in result:
        if int(question.line.path) not in sure:
            yield LineError(
                int(question.line.path), "sure", f"{question.sentence}. {ASKS[question.path]} Then write {YES} here"
            )


def _line(row: Row, names: dict[str, int], reader: LineReader) -> HourLine:
    """Its path is the line of the sheet."""
    given = {name: text.strip() for name, text in row.cells.items() if text.strip()}
    given.pop("sure", None)
    where = str(row.line)
    worker = names.get(" ".join(given.pop("worker", "").split()).casefold())
    if worker is None:
        raise DocumentError.at(f"{where}.worker", "is not a worker; write the name as the list of workers has it")
    try:
        minutes = read_hours(given.pop("hours", ""))
    except EntryError as error:
        raise DocumentError.at(f"{where}.hours", error.reason) from error
    document: dict[str, Any] = {**given, "worker": worker, "minutes": minutes}
    return reader.read(Reader(document, where))


def _is_sure(row: Row) -> bool:
    text = row.cells.get("sure", "").strip().casefold()
    if text not in ("", YES, "no"):
        raise DocumentError.at(f"{row.line}.sure", f'"{text[:20]}" is not {YES} or empty')
    return text == YES


def _at(line: int, error: DocumentError) -> Iterable[LineError]:
    for problem in error.complaints:
        name = problem.path.rpartition(".")[2]
        yield LineError(line, COLUMN_OF.get(name, name), problem.reason)
