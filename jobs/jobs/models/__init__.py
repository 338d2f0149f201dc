from jobs.jobs.models.clients import Client
from jobs.jobs.models.jobs import Job
from jobs.jobs.models.worked_jobs import WorkedJob

__all__ = [
    "Client",
    "Job",
    "WorkedJob",
]
