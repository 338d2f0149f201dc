from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.core.measure.survey import SurveyError
from jobs.walls.services.brought_in import confirm_brought_in, open_on
from quoting.job_files.services.job_files import import_job_file
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.people.access import DESK, PRICERS
from quoting.platform.people.models import Person
from quoting.service.services.work_up_files import file_document


class Command(BaseCommand):
    help = "Brings a job file in, as the page for it does. What it says keeps its authors."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="the job file (see fixtures/README.md)")
        parser.add_argument("--by", required=True, help="log-in name of who brings it in")
        parser.add_argument("--replace", action="store_true", help="replace the job of the same key")
        parser.add_argument("--confirm", action="store_true", help="stand for its marks and decisions at once")

    def handle(self, *args: Any, **options: Any) -> None:
        by = Person.objects.filter(login_name=options["by"], is_active=True).first()
        if by is None or by.role not in DESK:
            raise CommandError(f"--by: {options['by']} may bring a job in for nobody here; name somebody of the desk.")
        try:
            self._bring_in(by, options)
        except (DocumentError, SurveyError, Refused) as refusal:
            raise CommandError(str(refusal)) from refusal

    @transaction.atomic
    def _bring_in(self, by: Person, options: dict[str, Any]) -> None:
        now, on_known = clock.now(), "replace" if options["replace"] else "refuse"
        job = import_job_file(
            file_document(options["file"]), now=now, by=by, on_known=on_known, with_pricing=by.role in PRICERS
        )  # type: ignore[arg-type]
        walls = list(job.walls.all())
        if options["confirm"]:
            count = sum(confirm_brought_in(wall, seen_version=None, signature=signature_of(by, now)) for wall in walls)
            self.stdout.write(f"{job}: brought in by {by.full_name}, {count} marks and decisions confirmed.")
        else:
            count = sum(len(open_on(wall)) for wall in walls)
            self.stdout.write(f"{job}: brought in by {by.full_name}, {count} marks and decisions wait to be confirmed.")
