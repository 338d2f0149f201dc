"""The demonstration loaded in this process, on its own day."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from jobs.jobs.models import Job
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import papers_folder
from quoting.platform.people.models import Person
from quoting.quotes.services.quotes import issue_quote
from quoting.service.demo.demo import DEMO_DAY, MAIN_JOB, PANELLED_JOB, demo_people, job_key, load_demo
from quoting.service.demo.demo_orders import load_demo_orders, quote_signed_jobs
from tests.stored import lay
from tests.support.answered import PDF, with_paper

AT = datetime(DEMO_DAY.year, DEMO_DAY.month, DEMO_DAY.day, 15, tzinfo=UTC)


def load_demonstration(settings: Any, folder: Path, frozen_clock: Any) -> Job:
    settings.DATA_DIR = str(folder)
    frozen_clock.move_to(AT)
    lay("demonstration", _load, AT)
    for paper in Paper.objects.all():
        place = papers_folder() / paper.file_name
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(PDF)
    return Job.objects.get(key=job_key(MAIN_JOB))


def _load() -> None:
    demo_people()
    job = load_demo(AT)
    by = Person.objects.get(login_name="demo-estimator")
    issue_quote(job, request_key="demo", seen_mark=None, by=by, now=AT, today=DEMO_DAY)
    for revision in quote_signed_jobs(by=by, now=AT):
        with_paper(revision)
    load_demo_orders(framed=job_key(MAIN_JOB), panelled=job_key(PANELLED_JOB), by="Ines Calloway", now=AT)
