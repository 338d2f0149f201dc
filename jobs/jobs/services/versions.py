from django.db.models import F, Model

from catalog.core.ground.refusal import Refused
from jobs.jobs.services.changes import job_changed


class ChangedMeanwhile(Refused):
    """Someone else changed it since it was opened; nothing was saved."""

    status = 412
    path = "If-Match"

    def __init__(self, name: str, seen_version: int, version: int | None) -> None:
        what = (
            f"is now version {version}, and you changed version {seen_version}"
            if version is not None
            else "has been deleted"
        )
        super().__init__(f'"{name}" {what}. Nothing was saved: open it again and make your change there.')
        self.seen_version, self.version = seen_version, version


def next_version(row: Model, seen_version: int | None) -> int:
    """Take the next version, unless somebody has since `seen_version` was read; None asks nothing.

    One conditional UPDATE: of two who saw the same version, the second finds no row. It also holds the row
    to the end of the transaction, so that the parts are changed by one at a time.
    """
    rows = type(row)._default_manager.filter(pk=row.pk)
    unchanged = rows if seen_version is None else rows.filter(version=seen_version)
    if not unchanged.update(version=F("version") + 1):
        version = rows.values_list("version", flat=True).first()
        raise ChangedMeanwhile(str(row), seen_version or row.version, version)
    row.refresh_from_db(fields=["version"])
    if (job_id := getattr(row, "changes_job", None)) is not None:
        job_changed(job_id)
    return row.version
