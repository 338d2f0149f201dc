"""The firm's workers, as the owner keeps them, and whose hours a person may enter."""

from datetime import date, datetime
from typing import Any

from django.db import transaction
from django.db.models import Q, QuerySet

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import refuse_another, request_key_of
from catalog.services.row_sync import save_if_changed
from jobs.hours.models import Worker
from jobs.hours.services.rates import rate_names
from quoting.platform.formatting import day_words
from quoting.platform.people.models import Person, Role
from quoting.platform.people.signatures import Signature

MAX_NAME_LENGTH, MAX_RATE = 120, 100
FOR_ALL = (Role.LEAD, Role.OFFICE, Role.OWNER)


def workers_for(person: Person) -> QuerySet[Worker]:
    """Whose hours this person may enter: a lead, the office and the owner of everybody, others their own."""
    return Worker.objects.all() if person.role in FOR_ALL else Worker.objects.filter(person=person)


def workers_on(day: date) -> QuerySet[Worker]:
    return Worker.objects.filter(Q(last_day=None) | Q(last_day__gte=day), first_day__lte=day)


@transaction.atomic
def enter_worker(document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[Worker, bool]:
    """request_key, name, rate_name, first_day, last_day, login_name. Sent twice it is one."""
    reader = Reader(document)
    key = request_key_of(reader)
    present = Worker.objects.filter(request_key=key).first()
    figures = _figures(reader, present, signature.on)
    if present is not None:
        refuse_another(any(getattr(present, name) != value for name, value in figures.items()), "another worker")
        return present, False
    _refuse_same_name(figures["name"], None)
    marks = {"request_key": key, "entered_at": now, "entered_by_name": signature.by}
    return Worker.objects.create(**figures, **marks), True


@transaction.atomic
def change_worker(row: Worker, document: dict[str, Any], signature: Signature) -> Worker:
    """Hours keep the rate they were entered by. Raises DocumentError, Refused for days that hours are on."""
    row = Worker.objects.select_for_update(of=("self",)).get(pk=row.pk)
    figures = _figures(Reader(document), row, signature.on)
    _refuse_same_name(figures["name"], row)
    _refuse_days_outside(row, figures["first_day"], figures["last_day"])
    save_if_changed(row, figures)
    return row


def _figures(reader: Reader, row: Worker | None, today: date) -> dict[str, Any]:
    name = " ".join(reader.text("name", longest=MAX_NAME_LENGTH).split())
    rate_name = reader.text("rate_name", longest=MAX_RATE).strip()
    known = rate_names(today)
    if rate_name not in known and (row is None or row.rate_name != rate_name):
        raise reader.error(
            "rate_name", f'"{rate_name}" is no labour rate in force; these are: {", ".join(known) or "none"}'
        )
    first_day, last_day = reader.day("first_day"), reader.optional_day("last_day")
    if last_day is not None and last_day < first_day:
        raise reader.error("last_day", f"{day_words(last_day)} is before the first day, {day_words(first_day)}")
    person = _person(reader, row)
    reader.finish()
    return {
        "name": name,
        "rate_name": rate_name,
        "first_day": first_day,
        "last_day": last_day,
        "person": person,
    }


def _person(reader: Reader, row: Worker | None) -> Person | None:
    login_name = reader.text("login_name", "", longest=60).strip()
    if not login_name:
        return None
    person = Person.objects.filter(login_name=login_name).first()
    if person is None:
        raise reader.error("login_name", f'nobody logs in as "{login_name}"')
    other = Worker.objects.filter(person=person).exclude(pk=row.pk if row else None).first()
    if other is not None:
        raise reader.error("login_name", f'"{login_name}" is {other} already')
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
        raise Refused(f"{row} has hours on {day_words(outside[0])}. Take them back first, or choose other days.")
