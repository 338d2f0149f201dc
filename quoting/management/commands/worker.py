from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from quoting.platform.checks import refuse_to_start_when_wrong
from quoting.platform.errands.worker import EmbeddedWorker, StopRequest, WorkerRunsAlready


class Command(BaseCommand):
    help = "Does errands by looking at their rows, without a broker. With REDIS_URL, start Celery workers."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--drain", action="store_true", help="End when no errand is waiting or under way.")

    def handle(self, *args: Any, **options: Any) -> None:
        if settings.REDIS_URL:
            raise CommandError("REDIS_URL is set, so start the worker as: celery -A quoting.celery worker")
        refuse_to_start_when_wrong()
        try:
            EmbeddedWorker(StopRequest().listen()).run(drain=options["drain"])
        except WorkerRunsAlready as error:
            raise CommandError(str(error)) from error
