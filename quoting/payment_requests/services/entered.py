"""What every entry about requests stands on: the job held, an accepted quote."""

from jobs.jobs.models import Job
from quoting.changes.services.contracts import nothing_agreed
from quoting.payment_requests.services.standing import JobRequests, requests_of


def held_job(job: Job) -> Job:
    """To the end of the transaction: of two who enter something of its requests the second waits."""
    return Job.objects.select_for_update(of=("self",)).select_related("client").get(pk=job.pk)


def agreed_requests(job: Job) -> JobRequests:
    """Raises Refused while no quote is accepted."""
    request = requests_of(job)
    if request is None:
        raise nothing_agreed(job)
    return request
