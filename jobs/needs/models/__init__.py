from jobs.needs.models.stored_needs import StoredNeed
from jobs.needs.models.stored_results import StoredResult

__all__ = [
    "StoredNeed",
    "StoredResult",
]
