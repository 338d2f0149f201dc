"""The row of each job's life, kept in the transaction that changes a fact of it."""

from collections.abc import Callable, Collection, Mapping
from datetime import date, timedelta

from django.db import transaction

from jobs.dates.services.kept_to_order import keep_to_order
from jobs.jobs.models import Job
from quoting.core.life.facts_document import write_facts
from quoting.core.life.life import life_of
from quoting.life.models import KeptLife
from quoting.life.services.gathering import WorkedFacts, facts_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.read_once import one_page

after_keeping: list[Callable[[Collection[int]], None]] = []
"""What follows the rows, in their transaction; called with ids of jobs."""
COLUMNS = ["facts", "station", "ended", "next_by", "turns_on", "kept_on", "kept_at"]

TICK = timedelta(microseconds=1)


def keep_lives(
    job_ids: Collection[int], worked: Mapping[int, WorkedFacts] | None = None, *, dates_alone: bool = False
) -> None:
    """worked: what a work-up of this transaction found, by id of the job. dates_alone: whether nothing was written but
    days of needs, which leave what is left to order as it is."""
    if job_ids:
        with transaction.atomic(), one_page():
            now, rows = clock.now(), held_lives(job_ids)
            today = day_at_the_firm(now)
            if not dates_alone:
                keep_to_order(job_ids)
            lives = facts_of({row.pk: row.to_core() if row.facts else None for row in rows}, today, worked)
            for row in rows:
                # Later than before, though the clock stands or was set back.
                row.kept_at = max(now, row.kept_at + TICK) if row.kept_at else now
                fill(row, write_facts(lives[row.pk]), today)
            KeptLife.objects.bulk_update(rows, COLUMNS)
            for follow in after_keeping:
                follow([row.pk for row in rows])


def held_lives(job_ids: Collection[int]) -> list[KeptLife]:
    """Held to the end of the transaction, in one order and before needs; made where they are missing.

    Before the facts are read: of two who change facts of one job at once, the second reads what the first wrote.
    """
    there = list(Job.objects.filter(pk__in=job_ids).values_list("pk", flat=True))
    present = set(KeptLife.objects.filter(pk__in=there).values_list("pk", flat=True))
    missing = [KeptLife(job_id=pk) for pk in there if pk not in present]
    KeptLife.objects.bulk_create(missing, ignore_conflicts=True)
    return list(KeptLife.objects.select_for_update().filter(pk__in=there).order_by("pk"))


def fill(row: KeptLife, facts: dict[str, object], today: date) -> None:
    row.facts = facts
    life = life_of(row.to_core(), today)
    row.station, row.ended = life.station, life.end.kind if life.end else ""
    row.next_by, row.turns_on, row.kept_on = life.next.by if life.next else None, life.turns_on, today
