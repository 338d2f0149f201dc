"""What waits for a decision in each room of a job, from stored rows: the red numbers beside the rooms."""

from collections.abc import Mapping

from jobs.jobs.models import Job, WorkedJob


def waiting_counts(job: Job) -> Mapping[str, int]:
    """walls: decisions open on its walls, as the last work-up left them."""
    found = WorkedJob.objects.filter(job=job.pk).values_list("findings", flat=True).first() or []
    return {"walls": sum(1 for one in found if one.get("decide"))}
