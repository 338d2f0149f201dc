from jobs.dates.models.stored_needs import StoredNeed
from jobs.dates.models.worked_jobs import WorkedJob

__all__ = [
    "StoredNeed",
    "WorkedJob",
]
