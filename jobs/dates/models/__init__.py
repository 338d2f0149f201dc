from jobs.dates.models.stored_needs import StoredNeed

__all__ = [
    "StoredNeed",
]
