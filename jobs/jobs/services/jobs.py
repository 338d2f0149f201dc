from django.db import transaction
from django.db.models import Count, ProtectedError, Q

from catalog.core.ground.declared import Document, write
from catalog.core.ground.document_reader import DocumentError
from jobs.jobs.models import Job
from jobs.jobs.services.versions import next_version


def export_job(job: Job) -> Document:
    """The parts `client`, `job` and `walls`. Lengths carry their unit."""
    return write(job.to_core())


@transaction.atomic
def delete_job(job: Job, *, seen_version: int | None = None) -> None:
    next_version(job, seen_version)
    try:
        job.delete()
    except ProtectedError as error:
        held = sorted({str(entry._meta.verbose_name) for entry in error.protected_objects})
        reason = f"{job} has papers that must be kept ({', '.join(held)}) and cannot be deleted; close it instead"
        raise DocumentError.at("job", reason) from error


def job_of(key: str) -> Job:
    return Job.objects.select_related("client").get(key=key)


def list_jobs(search: str = "") -> list[Job]:
    rows = Job.objects.select_related("client").annotate(wall_count=Count("walls"))
    for word in search.split():
        rows = rows.filter(Q(key__icontains=word) | Q(title__icontains=word) | Q(client__name__icontains=word))
    return list(rows)
