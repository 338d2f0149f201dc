from jobs.deleted.models.deleted import Deleted, DeletedKind

__all__ = ["Deleted", "DeletedKind"]
