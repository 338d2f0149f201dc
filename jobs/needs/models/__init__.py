from jobs.needs.models.stored_needs import LEFT_TO_ORDER, NOT_LEFT_TO_ORDER, StoredNeed
from jobs.needs.models.stored_results import StoredResult

__all__ = [
    "LEFT_TO_ORDER",
    "NOT_LEFT_TO_ORDER",
    "StoredNeed",
    "StoredResult",
]
