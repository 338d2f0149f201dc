"""The pages people open most, on the demonstration, on a job of eight walls, and over 1,000 jobs more.

CPU time against an empty page of the same run, the weight of the HTML with its drawings, and the number of queries:
a page may take 40 ms, weigh 60 KB, and cost no more than twice that over 1,000 jobs.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass
from typing import Any

TURNS, JOBS = 9, 1_000
EIGHT = "J-EIGHT"


def page_lines() -> Iterator[str]:
    """In a process of its own, on a data folder of its own."""
    with tempfile.TemporaryDirectory(prefix="curvewright-bench-") as folder:
        inside = os.environ | {"CURVEWRIGHT_DATA": folder, "CURVEWRIGHT_MODE": "embedded"}
        inside.pop("CURVEWRIGHT_TEST_DATA_PARENT", None)
        subprocess.run([sys.executable, "manage.py", "demo"], env=inside, check=True, capture_output=True)
        process = subprocess.run(
            [sys.executable, "-m", "tests.bench_pages"], env=inside, check=True, stdout=subprocess.PIPE, text=True
        )
        yield from process.stdout.splitlines()


@dataclass(frozen=True)
class Measured:
    ms: float
    kb: float
    queries: int


def measured(client: Any, url: str) -> Measured:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    page = client.get(url)
    assert page.status_code == 200, f"{url}: {page.status_code}"
    client.get(url)
    took = []
    for _ in range(TURNS):
        began = time.process_time()
        client.get(url)
        took.append(time.process_time() - began)
    with CaptureQueriesContext(connection) as queries:
        client.get(url)
    return Measured(statistics.median(took) * 1000, len(page.content) / 1024, len(queries))


def lines() -> Iterator[str]:
    people = _people()
    bare = measured(people["office"], "/account/")
    yield _line("an empty page", bare)
    few = {}
    for name, who, url in _pages():
        few[name] = result = measured(people[who], url)
        yield _line(name, result, f"{result.ms / bare.ms:.1f} empty pages")
    _many()
    for name, who, url in _pages():
        result = measured(people[who], url)
        yield _line(f"{name}, {JOBS:,} jobs more", result, f"{result.ms / few[name].ms:.1f} times that")


def _line(name: str, result: Measured, against: str = "") -> str:
    message = f"{name:<46}{result.ms:>8.1f} ms{result.kb:>8.1f} KB{result.queries:>5} queries"
    return f"{message}   {against}".rstrip()


def _people() -> dict[str, Any]:
    from django.test import Client

    from quoting.platform.people.models import Person

    people = {"client": Client()}
    for role in ("owner", "estimator", "office", "lead"):
        people[role] = Client()
        people[role].force_login(Person.objects.get(login_name=f"demo-{role}"))
    return people


def _pages() -> Iterator[tuple[str, str, str]]:
    from django.urls import reverse

    from jobs.jobs.models import Job

    main, eight = Job.objects.order_by("pk").first(), Job.objects.get(key=EIGHT)
    assert main is not None
    for role in ("office", "estimator", "owner", "lead"):
        yield f"Today, {role}", role, reverse("today")
    yield "Jobs", "estimator", reverse("job_list")
    yield "To order", "office", reverse("order_dates")
    for name, job in (("one wall", main), ("eight walls", eight)):
        yield f"Job of {name}", "estimator", reverse("job", args=[job.pk])
        yield f"Job of {name}, lead", "lead", reverse("job", args=[job.pk])
        yield f"Wall of a job of {name}", "estimator", reverse("wall", args=[job.pk, job.walls.first().key])
        yield f"Site sheet, {name}", "lead", reverse("site_sheet", args=[job.pk])
    yield "Price of a job of one wall", "estimator", reverse("quote", args=[main.pk])
    yield "The client's page", "client", reverse("client_quote", args=[_secret()])


def _secret() -> str:
    from quoting.client.services.client_links import make_link
    from quoting.platform import clock
    from quoting.platform.firm_day import day_at_the_firm
    from quoting.quotes.models import QuoteRevision

    now = clock.now()
    revision = QuoteRevision.objects.filter(state="issued").first()
    assert revision is not None
    return make_link(revision.pk, now=now, today=day_at_the_firm(now), by_name="Bench")[1]


def _eight_walls() -> None:
    from jobs.jobs.models import Job
    from quoting.job_files.services.job_files import export_job_file, import_job_file
    from quoting.platform import clock
    from quoting.platform.firm_day import day_at_the_firm

    now = clock.now()
    file = export_job_file(Job.objects.order_by("pk").first(), day_at_the_firm(now))  # type: ignore[arg-type]
    [wall] = file["walls"]
    wall = {name: entry for name, entry in wall.items() if name not in ("overrides", "marks")}
    file["job"]["key"] = EIGHT
    for part in ("dates", "templates", "overrides"):
        file["job"].pop(part, None)
        file.pop(part, None)
    heights = range(8)
    file["walls"] = [wall | {"key": f"wall-{n}", "name": f"Wall {n}"} for n in heights]
    import_job_file(file, now=now)


def _work_up() -> None:
    from quoting.platform.errands.models import Errand, ErrandState
    from quoting.platform.errands.services.errands import run_errand

    kinds = ("date_job", "recompute_dates")
    while (errand := Errand.objects.filter(kind__in=kinds, state=ErrandState.WAITING).first()) is not None:
        assert run_errand(errand.pk, "bench") == "done"


def _many() -> None:
    """1,000 open jobs with the rows of the main one, led by somebody else."""
    from jobs.jobs.models import Job, WorkedJob
    from jobs.needs.models import StoredNeed, StoredResult
    from jobs.schedule.models import NamedPerson, PlannedActivityDays
    from quoting.life.models import KeptLife

    main = Job.objects.order_by("pk").first()
    assert main is not None
    jobs = []
    for number in range(JOBS):
        job = copy(main)
        job.pk, job.key, job.title, job._state = None, f"B-{number:04d}", f"Bench {number}", copy(main._state)
        jobs.append(job)
    jobs = Job.objects.bulk_create(jobs)
    NamedPerson.objects.bulk_create(NamedPerson(job=job, name="Somebody Else", part="lead") for job in jobs)
    for model in (WorkedJob, KeptLife, StoredNeed, StoredResult, PlannedActivityDays):
        rows = list(model._default_manager.filter(job=main))
        copies = []
        for job in jobs:
            for row in rows:
                entry = copy(row)
                entry.pk = None
                entry.job = job
                if model is StoredNeed:
                    entry.to_order = True  # no orders are copied
                copies.append(entry)
        model._default_manager.bulk_create(copies, batch_size=500)


def main() -> None:
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    import logging

    import django

    django.setup()
    logging.disable(logging.CRITICAL)
    _eight_walls()
    _work_up()
    for line in lines():
        print(line, flush=True)


if __name__ == "__main__":
    main()
