from datetime import date
from decimal import Decimal

from django.db import transaction

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from catalog.services.row_sync import save_if_changed
from jobs.core.measure import findings
from jobs.jobs.models import Job
from jobs.jobs.services.versions import next_version
from jobs.walls.models import Override, Wall
from jobs.walls.services.wall_rows import override_figures


@transaction.atomic
def set_override(
    job: Job,
    wall: Wall | None,
    *,
    key: str,
    reason: str,
    by: str,
    on: date,
    value: Decimal | str | None = None,
    original: Decimal | str | None = None,
    seen_version: int | None = None,
) -> Override:
    """Record a named person's decision; an earlier one of the same key gives way and stays in the history.

    value: what is set instead of a computed quantity, in the unit of its line; None for a check.
    """
    document = {"key": key, "reason": reason, "by": by, "on": on.isoformat()}
    reader = Reader({**document, "value": value, "original": original})
    figures = override_figures(read(findings.Override, reader))
    next_version(wall or job, seen_version)
    row = Override.objects.filter(job=job, wall=wall, key=key).first() or Override(job=job, wall=wall)
    save_if_changed(row, figures)
    _forget(job, wall)
    return row


@transaction.atomic
def clear_override(job: Job, wall: Wall | None, key: str, *, seen_version: int | None = None) -> bool:
    """Take a decision back: the computed answer stands again. False when there was none."""
    row = Override.objects.filter(job=job, wall=wall, key=key).first()
    if row is None:
        return False
    next_version(wall or job, seen_version)
    row.delete()
    _forget(job, wall)
    return True


def _forget(job: Job, wall: Wall | None) -> None:
    job.forget_parts()
    if wall is not None:
        wall.forget_parts()
