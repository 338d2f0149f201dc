from jobs.items.models.items import JobItem

__all__ = ["JobItem"]
