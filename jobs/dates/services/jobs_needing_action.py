"""What is missing or to be decided, job by job: from the heads of stored needs, and of what is worked up live."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from django.db.models import Q, QuerySet

from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.dates.services.item_schedule import OpenJobItems
from jobs.jobs.models import Job, WorkedJob
from jobs.jobs.services.signed import SIGNED, UNSIGNED, of_work, unsigned_last
from jobs.needs.models import StoredNeed
from jobs.work_up.services.findings import WAITING, findings_of_the_job
from jobs.work_up.services.job_work_up import JobResult

MAX_JOBS = 20


@dataclass(frozen=True)
class WaitingJob:
    """trouble: why its walls cannot be worked out, or empty. sentences: what is missing or to be decided, each once.
    signed: whether the job is."""

    job: Job
    trouble: str
    sentences: tuple[str, ...]
    signed: bool = False


def waiting_jobs(read: OpenJobItems, *, at_desk: bool, work: str = "") -> tuple[list[WaitingJob], int]:
    """The first of them, those of signed jobs ahead, and how many more there are. work: as `of_work` has it."""
    kept = [one for one in read.live if work in ("", _work_of(one.job, read))]
    live = [found for one in kept if (found := _of_work(one, at_desk))]
    heads, more = _heads(read, MAX_JOBS - len(live), work)
    gaps = _gaps_of_rows([head.pk for head in heads]) if at_desk else {}
    rows = [_of_head(head, gaps.get(head.pk, []), at_desk) for head in heads]
    found = [*live, *(one for one in rows if one.trouble or one.sentences)]
    marked = [replace(one, signed=one.job.pk in read.signed) for one in found]
    return sorted(marked, key=lambda one: not one.signed), more


def _work_of(job: Job, read: OpenJobItems) -> str:
    return SIGNED if job.pk in read.signed else UNSIGNED


def _of_work(work: JobResult, at_desk: bool) -> WaitingJob | None:
    if work.done is None:
        return WaitingJob(work.job, work.trouble, ())
    told = [one["sentence"] for one in findings_of_the_job(work.done) if one["desk" if at_desk else "site"]]
    told += _gaps_of_work(work.done) if at_desk else []
    return WaitingJob(work.job, "", tuple(dict.fromkeys(map(str, told)))) if told else None


def _gaps_of_work(done: JobWorkUp) -> list[str]:
    if done.read.job.start_on is None:
        return []
    return [one.sentence for need in done.needs for one in need.findings if one.weight in WAITING]


def _heads(read: OpenJobItems, most: int, work: str) -> tuple[list[WorkedJob], int]:
    undated = StoredNeed.objects.filter(order_by=None).values("job")
    rows = WorkedJob.objects.filter(of_work(work), job__closed_on=None).exclude(pk__in=read.live_ids)
    rows = rows.filter(~Q(findings=[]) | ~Q(trouble="") | Q(pk__in=undated)).order_by(unsigned_last(), "-pk")
    found = list(rows.select_related("job")[: max(0, most)])
    return found, _more(rows, len(found), most)


def _more(rows: QuerySet[WorkedJob], found: int, most: int) -> int:
    return max(0, rows.count() - found) if found >= most else 0


def _of_head(head: WorkedJob, gaps: list[str], at_desk: bool) -> WaitingJob:
    told = [one["sentence"] for one in head.findings if one["desk" if at_desk else "site"]]
    told += gaps if head.job.start_on is not None else []
    return WaitingJob(head.job, head.trouble, tuple(dict.fromkeys(told)))


def _gaps_of_rows(job_ids: list[int]) -> dict[int, list[str]]:
    found: dict[int, list[str]] = {}
    rows = StoredNeed.objects.filter(job__in=job_ids, order_by=None).order_by("job_id", "name")
    for job_id, findings in rows.values_list("job", "findings"):
        found.setdefault(job_id, []).extend(one["sentence"] for one in findings if one["weight"] in WAITING)
    return found


def undated_sentences(read: OpenJobItems, job_key: str) -> Iterator[tuple[Job, str]]:
    """What keeps activities from being dated, and walls from being worked out, for the lists of dates."""
    for work in read.live:
        if job_key in ("", work.job.key):
            yield from undated_of(work)
    heads = WorkedJob.objects.filter(job__closed_on=None).exclude(pk__in=read.live_ids)
    heads = heads.filter(~Q(findings=[]) | ~Q(trouble="")).select_related("job").order_by("-pk")
    if job_key:
        heads = heads.filter(job__key=job_key)
    for head in heads[:MAX_JOBS]:
        yield from _dates_of(head.job, head.trouble, head.findings)


def undated_of(work: JobResult) -> Iterator[tuple[Job, str]]:
    return _dates_of(work.job, work.trouble, findings_of_the_job(work.done) if work.done else [])


def _dates_of(job: Job, trouble: str, findings: list[dict[str, object]]) -> Iterator[tuple[Job, str]]:
    if trouble:
        yield job, f"The walls cannot be worked out. {trouble}"
    for one in findings:
        if one["dates"]:
            yield job, str(one["sentence"])
