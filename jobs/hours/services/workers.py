"""The firm's workers, as the owner keeps them, and whose hours a person may enter."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any

from django.db import transaction
from django.db.models import Q, QuerySet

from catalog.core.ground.declared import Stripped, read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import EntryError, Refused
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.services.row_sync import save_if_changed
from jobs.hours.models import Worker
from jobs.hours.services.rates import rate_names
from quoting.platform.formatting import day_words
from quoting.platform.people.models import Person, Role
from quoting.platform.people.signatures import Signature

FOR_ALL = (Role.LEAD, Role.OFFICE, Role.OWNER)


def workers_for(person: Person) -> QuerySet[Worker]:
    """Whose hours this person may enter: a lead, the office and the owner of everybody, others their own."""
    return Worker.objects.all() if person.role in FOR_ALL else Worker.objects.filter(person=person)


def workers_on(day: date) -> QuerySet[Worker]:
    return Worker.objects.filter(Q(last_day=None) | Q(last_day__gte=day), first_day__lte=day)


@dataclass(frozen=True, kw_only=True)
class WorkerChanges:
    """A worker as they are from now on."""

    name: Annotated[str, Stripped(120, one_line=True)]
    rate_name: Annotated[str, Stripped(100), "Of a labour rate: what their hours cost the firm."]
    first_day: date
    last_day: date | None = None
    login_name: Annotated[str, Stripped(60)] = ""

    def __post_init__(self) -> None:
        if self.last_day is not None and self.last_day < self.first_day:
            words = day_words(self.last_day), day_words(self.first_day)
            raise EntryError("last_day", f"{words[0]} is before the first day, {words[1]}")


@dataclass(frozen=True, kw_only=True)
class NewWorker(WorkerChanges):
    """Somebody whose hours are entered, and by which labour rate."""

    request_key: RequestKey


@transaction.atomic
def enter_worker(document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[Worker, bool]:
    """document: as `NewWorker`. Safe to repeat."""
    sent = read(NewWorker, Reader(document))
    present = Worker.objects.filter(request_key=sent.request_key).first()
    figures = _figures(sent, present, signature.on)
    if present is not None:
        refuse_another(any(getattr(present, name) != value for name, value in figures.items()), "another worker")
        return present, False
    _refuse_same_name(sent.name, None)
    marks = {"request_key": sent.request_key, "entered_at": now, "entered_by_name": signature.by}
    return Worker.objects.create(**figures, **marks), True


@transaction.atomic
def change_worker(row: Worker, document: dict[str, Any], signature: Signature) -> Worker:
    """document: as `WorkerChanges`; hours keep the rate they were entered by.

    Raises DocumentError, Refused for days that hours are on.
    """
    row = Worker.objects.select_for_update(of=("self",)).get(pk=row.pk)
    sent = read(WorkerChanges, Reader(document))
    figures = _figures(sent, row, signature.on)
    _refuse_same_name(sent.name, row)
    _refuse_days_outside(row, sent.first_day, sent.last_day)
    save_if_changed(row, figures)
    return row


def _figures(sent: WorkerChanges, row: Worker | None, today: date) -> dict[str, Any]:
    known = rate_names(today)
    if sent.rate_name not in known and (row is None or row.rate_name != sent.rate_name):
        message = f'"{sent.rate_name}" is not a labour rate in force; these are: {", ".join(known) or "none"}'
        raise DocumentError.at("rate_name", message)
    stored = {name: getattr(sent, name) for name in ("name", "rate_name", "first_day", "last_day")}
    return {**stored, "person": _person(sent.login_name, row)}


def _person(login_name: str, row: Worker | None) -> Person | None:
    if not login_name:
        return None
    person = Person.objects.filter(login_name=login_name).first()
    if person is None:
        raise DocumentError.at("login_name", f'nobody logs in as "{login_name}"')
    other = Worker.objects.filter(person=person).exclude(pk=row.pk if row else None).first()
    if other is not None:
        raise DocumentError.at("login_name", f'"{login_name}" is {other} already')
    return person


def _refuse_same_name(name: str, row: Worker | None) -> None:
    if Worker.objects.filter(name__iexact=name).exclude(pk=row.pk if row else None).exists():
        raise DocumentError.at("name", f'"{name}" is a worker already; add what tells them apart')


def _refuse_days_outside(row: Worker, first_day: date, last_day: date | None) -> None:
    """Hours that count stay within the worker's days."""
    counted = row.entries.filter(voided_at=None, reverses=None, reversed_by=None)
    days = counted.order_by("day").values_list("day", flat=True)
    outside = [day for day in (days.first(), days.last()) if day and not first_day <= day <= (last_day or day)]
    if outside:
        raise Refused(f"{row} has hours on {day_words(outside[0])}. Void them first, or choose other days.")
