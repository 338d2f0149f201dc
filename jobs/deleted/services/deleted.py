"""Keeps what is deleted, puts it back, and forgets it after thirty days."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.deleted.models import Deleted, DeletedKind
from jobs.jobs.models import Job
from quoting.platform.people.access import DESK, Roles

KEPT_FOR = timedelta(days=30)
MAX_NAME_LENGTH = 260


@dataclass(frozen=True)
class Deletion:
    """by: the full name of who deletes."""

    by: str
    now: datetime


@dataclass(frozen=True)
class WayBack:
    """roles: who may put such a part back: those who may enter it."""

    put_back: Callable[[Deleted, Deletion], None]
    roles: Roles


_ways: dict[str, WayBack] = {}


def put_back_by(
    kind: DeletedKind, roles: Roles = DESK
) -> Callable[[Callable[[Deleted, Deletion], None]], Callable[[Deleted, Deletion], None]]:
    """Registers how parts of a kind are put back. The function raises Refused or DocumentError, and stores all or
    nothing."""

    def register(put_back: Callable[[Deleted, Deletion], None]) -> Callable[[Deleted, Deletion], None]:
        _ways[kind] = WayBack(put_back, roles)
        return put_back

    return register


def keep_deleted(
    job: Job, kind: DeletedKind, key: str, name: str, document: dict[str, Any], deletion: Deletion
) -> Deleted:
    """To be called in the transaction that deletes."""
    return Deleted.objects.create(
        job=job,
        kind=kind,
        key=key,
        name=name[:MAX_NAME_LENGTH],
        document=document,
        deleted_at=deletion.now,
        deleted_by_name=deletion.by,
        until=deletion.now + KEPT_FOR,
    )


def deleted_of(job: Job, role: str, now: datetime) -> list[Deleted]:
    """What may be put back by this role, the latest first."""
    kinds = [kind for kind, way in _ways.items() if role in way.roles]
    return list(job.deleted.filter(put_back_at=None, until__gt=now, kind__in=kinds))


def may_put_back(row: Deleted, role: str) -> bool:
    return role in _ways[row.kind].roles


@transaction.atomic
def put_back(row: Deleted, deletion: Deletion) -> Deleted:
    """As it was when it was deleted; twice is once. Raises Refused when it cannot stand there now."""
    row = Deleted.objects.select_for_update().select_related("job").get(pk=row.pk)
    if row.put_back_at is not None:
        return row
    if row.until <= deletion.now:
        raise Refused(f"{row} was deleted more than thirty days ago and is gone.")
    try:
        _ways[row.kind].put_back(row, deletion)
    except DocumentError as error:
        message = "; ".join(f"{complaint.path} {complaint.reason}".strip() for complaint in error.complaints)
        raise Refused(f"{row} cannot be put back: {message}.") from error
    row.put_back_at, row.put_back_by_name = deletion.now, deletion.by
    row.save(update_fields=["put_back_at", "put_back_by_name"])
    return row


def forget_deleted(now: datetime) -> None:
    Deleted.objects.filter(until__lte=now).delete()
