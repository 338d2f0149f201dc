from datetime import date
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from catalog.core.book import Book
from catalog.services.book import book_of
from quoting import clock
from quoting.services.work_up_files import FileProblem, Written, work_up_file


def iso_day(text: str) -> date:
    return date.fromisoformat(text)


class Command(BaseCommand):
    help = "Work a job file up: takeoff, schedule, quote and papers, written to a folder."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="the job file (see fixtures/README.md)")
        parser.add_argument("--out", type=Path, required=True, help="folder for the results")
        parser.add_argument("--today", type=iso_day, help="day the figures hold for, YYYY-MM-DD")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            written = work_up_file(options["file"], options["out"], options["today"] or clock.today(), self._catalog())
        except FileProblem as problem:
            raise CommandError(str(problem)) from problem
        self._tell(written)

    def _catalog(self) -> Book | None:
        return book_of()

    def _tell(self, written: Written) -> None:
        quote = written.done.quote
        for finding in written.done.findings:
            self.stdout.write(f"{finding.weight}: {finding.sentence}")
        if quote is not None and quote.priced is not None:
            self.stdout.write(f"Total {written.done.read.book.firm.currency} {quote.priced.total}")
        for path in written.paths.values():
            self.stdout.write(str(path))
