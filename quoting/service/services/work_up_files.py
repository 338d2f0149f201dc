"""Works a job file up without touching stored jobs, and writes every result as a file."""

import json
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from catalog.core.ground.document_reader import DocumentError, parse_document
from catalog.core.ground.refusal import Refused
from catalog.core.materials.catalog_data import Catalog
from jobs.core.results.result_documents import schedule_document, takeoff_document
from jobs.dates.services.order_dates_paper import order_dates_paper
from jobs.walls.services.wall_error_paths import ImpossibleWall, errors_with_paths
from quoting.alerts.services.calendar_file import calendar_bytes
from quoting.core.quotes.job_file import JobFile, read_job_file
from quoting.core.quotes.quote_document import quote_document
from quoting.core.quotes.work_up import WorkUp, work_up
from quoting.platform.api.parsing import MAX_FILE
from quoting.platform.papers.typeset import paper_pdf
from quoting.quotes.services.quote_paper import QuoteHead, quote_paper

QUOTE_PAPER = "quote.pdf"


@dataclass(frozen=True)
class Written:
    done: WorkUp
    paths: dict[str, Path]


def file_document(path: Path) -> dict[str, Any]:
    """The JSON object in a file; raises Refused, naming the file."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise Refused(f"{path}: cannot be read ({error.strerror}).") from error
    if len(data) > MAX_FILE:
        raise Refused(f"{path}: is larger than 10 MB; a job file is a few hundred kilobytes at most.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Refused(f"{path}: is not UTF-8 text (byte {error.start}); save it as UTF-8.") from error
    try:
        return parse_document(text)
    except DocumentError as error:
        raise Refused(f"{path}:\n{error}") from error


def read_file(path: Path, catalog: Catalog | None) -> JobFile:
    document = file_document(path)
    try:
        return read_job_file(document, catalog)
    except DocumentError as error:
        raise Refused(f"{path}:\n{error}") from error


def work_up_file(
    path: Path, out: Path, catalog: Catalog | None, *, now: datetime, today: date | None = None
) -> Written:
    """today: the day the figures hold for; None for the day it is now where the file's firm is."""
    read = read_file(path, catalog)
    day = today or now.astimezone(ZoneInfo(read.book.firm.time_zone)).date()
    try:
        with errors_with_paths(read.job.walls):
            result = work_up(read, day)
    except ImpossibleWall as error:
        raise Refused(f"{path}:\n{error.field}: {error.reason}") from error
    files = _files_of(result)
    try:
        return Written(result, _write_all(files, out))
    except OSError as error:
        raise Refused(f"{out}: the results cannot be written there ({error.strerror}).") from error


def _files_of(result: WorkUp) -> dict[str, bytes]:
    head = QuoteHead(number=result.read.job.key, revision="unissued", prepared_by=result.read.book.firm.name)
    files: dict[str, bytes] = {
        "takeoff.json": _json(takeoff_document(result)),
        "schedule.json": _json(schedule_document(result)),
        "quote.json": _json(quote_document(result)),
        "order-dates.pdf": paper_pdf(order_dates_paper(result, prepared_by=head.prepared_by)),
        "order-dates.ics": calendar_bytes(result),
    }
    # A quote that cannot be priced has no paper; quote.json names the gaps.
    if result.quote is not None and result.quote.priced is not None:
        files[QUOTE_PAPER] = paper_pdf(quote_paper(result, head))
    return files


def _write_all(files: dict[str, bytes], out: Path) -> dict[str, Path]:
    out.mkdir(parents=True, exist_ok=True)
    # A paper left over from an earlier run must not be taken for this one's.
    (out / QUOTE_PAPER).unlink(missing_ok=True)
    paths = {name: out / name for name in files}
    for name, path in paths.items():
        path.write_bytes(files[name])
    return paths


def _json(document: dict[str, Any]) -> bytes:
    return (json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode()
