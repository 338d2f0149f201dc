import logging
import time
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.db import DatabaseError, close_old_connections

from quoting.platform import clock
from quoting.platform.checks import refuse_to_start_when_wrong
from quoting.platform.errands.services import chores
from quoting.platform.errands.worker import StopRequest

log = logging.getLogger(__name__)

SWEEP_EVERY_S = 30.0
SWEEPS_A_TICK = 2


class Command(BaseCommand):
    help = "Sweeps errands every 30 s and does the chores every 60 s. Two at once do no harm."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--once", action="store_true", help="One sweep and one round of chores, then end.")

    def handle(self, *args: Any, **options: Any) -> None:
        refuse_to_start_when_wrong()
        stop = StopRequest().listen()
        rounds = 0
        while not stop.is_set:
            began = time.monotonic()
            one_round(with_chores=rounds % SWEEPS_A_TICK == 0)
            rounds += 1
            if options["once"] or stop.wait(max(0.0, SWEEP_EVERY_S - (time.monotonic() - began))):
                return


def one_round(*, with_chores: bool) -> None:
    try:
        close_old_connections()
        chores.sweep(clock.now())
        if with_chores:
            chores.tick(clock.now())
    except DatabaseError:
        log.exception("the tick cannot reach the database")
