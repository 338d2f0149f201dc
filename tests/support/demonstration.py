"""The demonstration loaded in this process, on its own day."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from jobs.jobs.models import Job
from quoting.platform import clock
from quoting.platform.people.models import Person
from quoting.quotes.services.quotes import issue_quote
from quoting.service.demo.demo import DEMO_DAY, MAIN_JOB, PANELLED_JOB, demo_people, job_key, load_demo
from quoting.service.demo.demo_orders import load_demo_orders, quote_signed_jobs
from tests.support.answered import with_paper


def load_demonstration(settings: Any, folder: Path, frozen_clock: Any) -> Job:
    settings.DATA_DIR = str(folder)
    frozen_clock.move_to(datetime(DEMO_DAY.year, DEMO_DAY.month, DEMO_DAY.day, 15, tzinfo=UTC))
    now = clock.now()
    demo_people()
    job = load_demo(now)
    by = Person.objects.get(login_name="demo-estimator")
    issue_quote(job, request_key="demo", seen_mark=None, by=by, now=now, today=DEMO_DAY)
    for revision in quote_signed_jobs(by=by, now=now):
        with_paper(revision)
    load_demo_orders(framed=job_key(MAIN_JOB), panelled=job_key(PANELLED_JOB), by="Ines Calloway", now=now)
    return job
