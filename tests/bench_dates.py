"""Dates over 1,000 open jobs of 40 items: counted again from rows, against reading and writing the same rows.

On CPU time, so that a busy machine says the same: SQLite works in this process.
"""

import os
import statistics
import time
from collections.abc import Callable, Iterator
from copy import copy
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

from catalog.core.materials.catalog_data import Catalog

SPREAD = 90
STATED = {"what": "Track", "quantity": "4", "unit": "stick", "packs": [{"label": "10 ft", "count": 4}], "runs": []}
JOBS, ITEMS, TURNS = 1_000, 40, 5
DAY = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)
TODAY = date(2026, 11, 25)


def date_lines() -> Iterator[str]:
    from quoting.platform import clock

    with clock.use(clock.FrozenClock(DAY)):
        _many_jobs()
        yield from _errand_lines()
        yield from _page_lines()


def seconds(act: Callable[[], object], before: Callable[[], object] = lambda: None) -> float:
    took = []
    for _ in range(TURNS):
        before()
        began = time.process_time()
        act()
        took.append(time.process_time() - began)
    return statistics.median(took)


def _errand_lines() -> Iterator[str]:
    from catalog.models import Closure, Supplier
    from jobs.needs.services.date_recalculation import recompute_dates

    def move() -> None:
        """Four weeks off at every supplier, then none again."""
        away = Closure.objects.filter(reason="bench")
        if away.exists():
            away.delete()
            return
        for seller in Supplier.objects.all():
            Closure.objects.create(
                supplier=seller, first_day=date(2027, 2, 1), last_day=date(2027, 2, 26), reason="bench"
            )

    recompute_dates(TODAY)
    bare = seconds(_read_and_write)
    unmoved = seconds(lambda: recompute_dates(TODAY))
    changed: list[int] = []
    moved = seconds(lambda: changed.append(recompute_dates(TODAY).changed), move)
    yield f"{JOBS * ITEMS:,} rows read and written{'':<12}{bare:>10.2f} s"
    yield f"dates of all, none of them moves{'':<9}{unmoved:>10.2f} s   {unmoved / bare:.2f} times that"
    yield f"dates of all, {min(changed):,} rows move{'':<8}{moved:>10.2f} s   {moved / bare:.2f} times that"


def _read_and_write() -> None:
    from django.db import transaction

    from jobs.jobs.models import Job
    from jobs.needs.models import StoredNeed
    from jobs.needs.services.date_recalculation import JOBS_AT_ONCE
    from jobs.needs.services.stored_needs import DATE_COLUMNS, store_rows

    ids = list(Job.objects.order_by("pk").values_list("pk", flat=True))
    for first in range(0, len(ids), JOBS_AT_ONCE):
        with transaction.atomic():
            store_rows(list(StoredNeed.objects.filter(job__in=ids[first : first + JOBS_AT_ONCE])), DATE_COLUMNS)


def _page_lines() -> Iterator[str]:
    from django.test import Client
    from django.urls import reverse

    from quoting.platform.people.services.people import add_person

    office, _ = add_person("bench-dates", "Bench", "office")
    client = Client()
    client.force_login(office)

    def get(url: str) -> Callable[[], object]:
        return lambda: client.get(url)

    bare = seconds(get("/account/"))
    yield f"an empty page{'':<28}{bare * 1000:>10.1f} ms"
    for name, url in (
        ("today", reverse("today")),
        ("order dates", reverse("order_dates")),
        ("order dates, the last page", f"{reverse('order_dates')}?page=99999"),
    ):
        assert client.get(url).status_code == 200
        took = seconds(get(url))
        yield f"{name}, {JOBS:,} jobs{'':<28}"[:41] + f"{took * 1000:>10.1f} ms   {took / bare:.1f} times that"


def _many_jobs() -> None:
    """Rows as a work-up leaves them: forty materials wanted by every job, on days spread over a quarter."""
    from catalog.services.changes import catalog_number
    from jobs.core.ordering.needs import AGREED, Want, date_want
    from jobs.jobs.models import Job, WorkedJob
    from jobs.needs.models import StoredNeed
    from jobs.needs.services.stored_needs import fill_dates, inputs_digest
    from tests.stored import stored_job

    first = Job.objects.filter(key="J-0001").first() or stored_job("larkmoor-dental")
    Job.objects.update(closed_on=TODAY)
    book, codes = _forty_materials()
    rows = {}
    for days in range(SPREAD):
        for code in codes:
            want = Want(code, Decimal(4), "profile", date(2027, 1, 25) + timedelta(days=days), AGREED)
            row = StoredNeed(material=code, quantity=4, driven_by="profile", need_by=want.need_by, set_by=AGREED)
            fill_dates(row, date_want(want, book, book.firm.calendar, TODAY))
            rows[days, code] = row
    jobs = Job.objects.bulk_create(
        Job(key=f"B-{number:04d}", title=f"Bench {number}", client=first.client, created_at=DAY)
        for number in range(JOBS)
    )
    numbers = {"worked_changes": 1, "catalog_changes": catalog_number(), "dated_on": TODAY, "worked_up_at": DAY}
    WorkedJob.objects.bulk_create(WorkedJob(job=job, basis=inputs_digest(book, TODAY), **numbers) for job in jobs)
    needs = []
    for number, job in enumerate(jobs):
        for code in codes:
            need = copy(rows[number % SPREAD, code])
            need.job, need.statement = job, {**STATED, "material": code}
            needs.append(need)
    StoredNeed.objects.bulk_create(needs, batch_size=500)


def _forty_materials() -> tuple[Catalog, list[str]]:
    """Those of the starter catalog and a few that differ in nothing but their code."""
    from catalog.services.book import book_of
    from catalog.services.materials import store_materials

    book = book_of()
    dated = [material for material in book.materials.values() if material.supplier and material.lead_terms]
    more = [replace(dated[at], code=f"BENCH-{at}") for at in range(ITEMS - len(dated))]
    store_materials(more)
    return book_of(), [material.code for material in (*dated, *more)][:ITEMS]


def main() -> None:
    """By itself: python -m tests.bench_dates."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    import logging

    import django

    django.setup()
    logging.disable(logging.CRITICAL)
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    for line in date_lines():
        print(line, flush=True)


if __name__ == "__main__":
    main()
