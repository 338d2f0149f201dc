import re
from argparse import ArgumentTypeError
from datetime import date
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import DatabaseError

from catalog.core.ground.day_words import day_words
from catalog.core.ground.refusal import Refused
from quoting.platform import clock
from quoting.platform.papers.errors import PaperError
from quoting.service.services.fallback_catalog import catalog_behind
from quoting.service.services.work_up_files import Written, work_up_file


def iso_day(text: str) -> date:
    try:
        # A week date such as 2026-W48-3 is a day to Python, but nobody means it here.
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            raise ValueError
        day = date.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(f"{text!r} is not a day; write it as 2026-11-25") from None
    # The same years as in documents: the calendars count hundreds of days back and forward from it.
    if not 2000 <= day.year <= 2100:
        raise ArgumentTypeError(f"{text} is outside the years 2000 to 2100")
    return day


class Command(BaseCommand):
    help = "Work a job file up: takeoff, schedule, quote and papers, written to a folder."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="the job file (see fixtures/README.md)")
        parser.add_argument("--out", type=Path, required=True, help="folder for the results")
        parser.add_argument(
            "--today",
            type=iso_day,
            help="day the figures hold for, YYYY-MM-DD; without it, today at the firm of the file",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            catalog = catalog_behind()
            written = work_up_file(
                options["file"], options["out"], catalog.book, now=clock.now(), today=options["today"]
            )
        except (Refused, PaperError) as problem:
            raise CommandError(str(problem)) from problem
        except DatabaseError as error:
            raise CommandError(f"The database does not answer: {error}") from error
        self.stdout.write(f"As of {day_words(written.done.today)}, with {catalog.name} behind the file.")
        self._tell(written)

    def _tell(self, written: Written) -> None:
        quote = written.done.quote
        for finding in written.done.findings:
            self.stdout.write(f"{finding.weight}: {finding.sentence}")
        if quote is not None and quote.priced is not None:
            self.stdout.write(f"Total {written.done.read.book.firm.currency} {quote.priced.total}")
        for path in written.paths.values():
            self.stdout.write(str(path))
