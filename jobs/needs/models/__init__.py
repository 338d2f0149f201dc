from jobs.needs.models.stored_needs import StoredNeed

__all__ = [
    "StoredNeed",
]
