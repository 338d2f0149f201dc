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
    jobs = [result for result in read.live if work in ("", _work_of(result.job, read))]
    live = [job for result in jobs if (job := _of_work(result, at_desk))]
    heads, more = _heads(read, MAX_JOBS - len(live), work)
    gaps = _gaps_of_rows([head.pk for head in heads]) if at_desk else {}
    rows = [_of_head(head, gaps.get(head.pk, []), at_desk) for head in heads]
    result = [*live, *(row for row in rows if row.trouble or row.sentences)]
    marked = [replace(entry, signed=entry.job.pk in read.signed) for entry in result]
    return sorted(marked, key=lambda job: not job.signed), more


def _work_of(job: Job, read: OpenJobItems) -> str:
    return SIGNED if job.pk in read.signed else UNSIGNED


def _of_work(work: JobResult, at_desk: bool) -> WaitingJob | None:
    if work.done is None:
        return WaitingJob(work.job, work.trouble, ())
    message = [entry["sentence"] for entry in findings_of_the_job(work.done) if entry["desk" if at_desk else "site"]]
    message += _gaps_of_work(work.done) if at_desk else []
    return WaitingJob(work.job, "", tuple(dict.fromkeys(map(str, message)))) if message else None


def _gaps_of_work(work_up: JobWorkUp) -> list[str]:
    if work_up.read.job.start_on is None:
        return []
    return [finding.sentence for need in work_up.needs for finding in need.findings if finding.weight in WAITING]


def _heads(read: OpenJobItems, most: int, work: str) -> tuple[list[WorkedJob], int]:
    undated = StoredNeed.objects.filter(order_by=None).values("job")
    rows = WorkedJob.objects.filter(of_work(work), job__closed_on=None).exclude(pk__in=read.live_ids)
    rows = rows.filter(~Q(findings=[]) | ~Q(trouble="") | Q(pk__in=undated)).order_by(unsigned_last(), "-pk")
    heads = list(rows.select_related("job")[: max(0, most)])
    return heads, _more(rows, len(heads), most)


def _more(rows: QuerySet[WorkedJob], result: int, most: int) -> int:
    return max(0, rows.count() - result) if result >= most else 0


def _of_head(head: WorkedJob, gaps: list[str], at_desk: bool) -> WaitingJob:
    message = [finding["sentence"] for finding in head.findings if finding["desk" if at_desk else "site"]]
    message += gaps if head.job.start_on is not None else []
    return WaitingJob(head.job, head.trouble, tuple(dict.fromkeys(message)))


def _gaps_of_rows(job_ids: list[int]) -> dict[int, list[str]]:
    gaps: dict[int, list[str]] = {}
    rows = StoredNeed.objects.filter(job__in=job_ids, order_by=None).order_by("job_id", "name")
    for job_id, findings in rows.values_list("job", "findings"):
        gaps.setdefault(job_id, []).extend(finding["sentence"] for finding in findings if finding["weight"] in WAITING)
    return gaps


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
    for finding in findings:
        if finding["dates"]:
            yield job, str(finding["sentence"])
