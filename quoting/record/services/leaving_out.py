"""A closed job is not to teach a standard, by name and with a reason; and how much of its boards was left over."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Stripped, Text, read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.models import Material
from catalog.services.row_sync import save_if_changed
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine
from quoting.core.money.closed_jobs import TEACHES, WASTE
from quoting.platform.models.columns import quantized
from quoting.platform.people.signatures import Signature
from quoting.record.models import LeftOut, LeftOver
from quoting.record.models.closed_jobs import MAX_LEFT_OVER, MAX_REASON
from quoting.record.services.agreed import BOARD


@dataclass(frozen=True)
class NotLeftOut:
    """A closed job, and the standard it is to teach."""

    standard: Annotated[str, Text(120), "Its name, or `waste` and the code of a material."]
    job: Annotated[str, Text(60), "Its key."]


@dataclass(frozen=True)
class NewLeftOut(NotLeftOut):
    """A closed job that is not to teach a standard."""

    reason: Annotated[str, Stripped(MAX_REASON)]


@transaction.atomic
def leave_out(document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[LeftOut, bool]:
    """document: as `NewLeftOut`. Safe to repeat. Raises DocumentError, Refused."""
    sent = read(NewLeftOut, Reader(document))
    standard, job, reason = _known_standard(sent.standard), _closed_job(sent.job), sent.reason
    present = LeftOut.objects.filter(job=job, standard=standard, undone_at=None).first()
    if present is not None and present.reason == reason:
        return present, False
    if present is not None:
        save_if_changed(present, {"undone_at": now, "undone_by_name": signature.by})
    text = {"entered_at": now, "entered_by_name": signature.by}
    return LeftOut.objects.create(job=job, standard=standard, reason=reason, **text), True


@transaction.atomic
def take_in_again(document: dict[str, Any], signature: Signature, *, now: datetime) -> bool:
    """document: as `NotLeftOut`. Whether it was left out."""
    sent = read(NotLeftOut, Reader(document))
    standard, job = _known_standard(sent.standard), _closed_job(sent.job)
    row = LeftOut.objects.filter(job=job, standard=standard, undone_at=None).first()
    return row is not None and save_if_changed(row, {"undone_at": now, "undone_by_name": signature.by})


def _known_standard(name: str) -> str:
    material = name.removeprefix(WASTE) if name.startswith(WASTE) else ""
    if name not in TEACHES and not (material and Material.objects.filter(code=material).exists()):
        known = ", ".join(TEACHES)
        raise DocumentError.at("standard", f'"{name}" is not one of {known}, or waste and the code of a material')
    return name


def _closed_job(key: str) -> Job:
    job = Job.objects.select_for_update().filter(key=key).first()
    if job is None:
        raise DocumentError.at("job", f'"{key}" is not a job')
    if job.closed_on is None:
        raise Refused(f"{job} is not closed. Only closed jobs teach a standard.")
    return job


def boards_of(job: Job) -> list[Material]:
    """Boards of the job's placed orders, by name."""
    lines = OrderLine.objects.filter(job=job, order__placed_on__isnull=False, material__kind=BOARD)
    return list(Material.objects.filter(code__in=lines.values("material")).order_by("name", "code"))


def left_over_of(job: Job) -> dict[str, Decimal]:
    return dict(LeftOver.objects.filter(job=job).values_list("material", "count"))


@transaction.atomic
def count_left_over(job: Job, document: dict[str, Any], signature: Signature, *, now: datetime) -> list[LeftOver]:
    """left_over: by code of the board, how many sheets; one that is not named, or empty, is not counted."""
    job = Job.objects.select_for_update().get(pk=job.pk)
    reader = Reader(document)
    inner = reader.optional_object("left_over")
    counted = _counts(inner, boards_of(job)) if inner is not None else {}
    reader.finish()
    LeftOver.objects.filter(job=job).exclude(material__in=counted).delete()
    present = {row.material_id: row for row in LeftOver.objects.filter(job=job)}
    for code, count in counted.items():
        row = present.get(code) or LeftOver(job=job, material_id=code)
        if row.pk is None or row.count != count:
            save_if_changed(row, {"count": count, "said_at": now, "said_by_name": signature.by})
    return list(LeftOver.objects.filter(job=job))


def _counts(reader: Reader, boards: Iterable[Material]) -> dict[str, Decimal]:
    codes = {board.code for board in boards}
    counted = {}
    for code in reader.names():
        if code not in codes:
            raise reader.error(code, "is not a board of this job's orders")
        count = reader.optional_decimal(code, "0", str(MAX_LEFT_OVER))
        if count is not None:
            counted[code] = quantized(count)
    reader.finish()
    return counted
