"""Open jobs worked up while somebody waits."""

from collections import OrderedDict
from dataclasses import dataclass
from datetime import date, time

from catalog.core.materials.catalog_data import Catalog
from catalog.services.book import book_of
from jobs.core.measure.survey import SurveyError
from jobs.core.ordering.job_work_up import JobInputs, JobWorkUp, work_up_job
from jobs.core.schedule.job_spec import JobSpec
from jobs.jobs.models import Job
from jobs.jobs.services.open_jobs import with_parts
from jobs.walls.services.wall_cache import walls_worked_up
from jobs.work_up.services.kept_job_specs import kept_spec


@dataclass(frozen=True)
class JobResult:
    """One open job; done is None where its walls cannot be worked out, and trouble then says why.

    book: the catalog as it is, whoever the job has its materials from.
    """

    job: Job
    done: JobWorkUp | None
    trouble: str = ""
    book: Catalog | None = None


def worked_up(jobs: list[Job], book: Catalog, today: date, now_at: time | None) -> tuple[JobResult, ...]:
    """Unpriced, in a number of queries that does not grow with the jobs."""
    return tuple(work_of(job, book, today, now_at) for job in with_parts(jobs))


def work_of(job: Job, book: Catalog, today: date, now_at: time | None = None) -> JobResult:
    """now_at: the firm's time of day, for what is read now; None for what is kept or sent and read later."""
    try:
        return JobResult(job, _done(kept_spec(job), book, today, now_at), book=book)
    except SurveyError as error:
        return JobResult(job, None, f"{error.field}: {error.reason}", book)


# By what they rest on: the very same values, for the catalog and the job are made anew only where rows differ.
_last: OrderedDict[tuple[object, ...], tuple[JobInputs, JobWorkUp]] = OrderedDict()
MAX_JOBS = 16


def _done(spec: JobSpec, book: Catalog, today: date, now_at: time | None) -> JobWorkUp:
    key = (id(spec), id(book), today, now_at)
    known = _last.get(key)
    if known is not None:
        return known[1]
    read = JobInputs(book, spec)
    work_up = work_up_job(read, today, walls_worked_up(read, today), now_at)
    _last[key] = (read, work_up)  # what is kept has its ids for itself
    while len(_last) > MAX_JOBS:
        _last.popitem(last=False)
    return work_up


def stored_work_up(job: Job, today: date) -> JobWorkUp:
    """One job, unpriced. Raises SurveyError when a wall's figures give no wall."""
    return _done(kept_spec(job), book_of(), today, None)
