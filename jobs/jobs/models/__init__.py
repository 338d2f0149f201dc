from jobs.jobs.models.clients import Client
from jobs.jobs.models.jobs import Job

__all__ = [
    "Client",
    "Job",
]
