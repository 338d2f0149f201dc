"""The owner's month over 200 jobs, each with its hours and bills, against reading the same rows.

Made so that it takes no more queries for many jobs than for one, and at most a few times what its rows take to read.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date
from typing import Any

JOBS, ENTRIES, LINES, TURNS = 200, 10, 2, 5
MONTH, TODAY = date(2026, 9, 1), date(2026, 10, 5)


def month_lines() -> Iterator[str]:
    """In a process of its own, on a data folder of its own."""
    with tempfile.TemporaryDirectory(prefix="curvewright-bench-") as folder:
        inside = os.environ | {"CURVEWRIGHT_DATA": folder, "CURVEWRIGHT_MODE": "embedded"}
        inside.pop("CURVEWRIGHT_TEST_DATA_PARENT", None)
        subprocess.run([sys.executable, "manage.py", "migrate"], env=inside, check=True, capture_output=True)
        process = subprocess.run(
            [sys.executable, "-m", "tests.bench_month"], env=inside, check=True, stdout=subprocess.PIPE, text=True
        )
        yield from process.stdout.splitlines()


def lines() -> Iterator[str]:
    from jobs.jobs.models import Job
    from quoting.job_money.services.facts import facts_of
    from quoting.month.services.month_documents import month_document

    _lay()
    jobs = list(Job.objects.values_list("pk", flat=True))
    rows_ms, rows = _measured(lambda: facts_of(jobs, TODAY))
    month_ms, queries = _measured(lambda: month_document(MONTH, TODAY))
    yield f"{f'rows of {JOBS} jobs':<46}{rows_ms:>8.1f} ms{rows:>5} queries"
    yield f"{f'month of {JOBS} jobs':<46}{month_ms:>8.1f} ms{queries:>5} queries   {month_ms / rows_ms:.1f} times that"


def _measured(act: Callable[[], Any]) -> tuple[float, int]:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    act()
    took = []
    for _ in range(TURNS):
        began = time.process_time()
        act()
        took.append(time.process_time() - began)
    with CaptureQueriesContext(connection) as result:
        act()
    return statistics.median(took) * 1000, len(result)


def _lay() -> None:
    from django.db import transaction

    from catalog.services.catalog_file import store_book
    from jobs.jobs.models import Job
    from quoting.life.models import KeptLife
    from tests.factories.bills import bill_line, bill_row
    from tests.factories.hours import time_entry, worker
    from tests.factories.jobs import JobFactory
    from tests.support.signing import sign
    from tests.support.worked import small_book

    with transaction.atomic():
        store_book(small_book(), on_known="keep")
        who = worker()
        for place in range(JOBS):
            job: Job = JobFactory(key=f"M-{place}")
            sign(job)
            facts = {"opened_on": "2026-08-01", "client": "Ada", "signed_on": "2026-08-10", "last_end": "2026-09-25"}
            KeptLife.objects.update_or_create(job=job, defaults={"facts": facts})
            for day in range(1, ENTRIES + 1):
                time_entry(who, job, 60, date(2026, 9, day))
            bill = bill_row(f"B-{place}", day=date(2026, 9, 20), posted_month=MONTH)
            for _ in range(LINES):
                bill_line(bill, job, "10.00")


if __name__ == "__main__":
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "quoting.settings")
    django.setup()
    for line in lines():
        print(line)
