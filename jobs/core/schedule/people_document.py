"""Who is named to a job, and when its activities really began and ended, read from its document and written back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from catalog.core.ground.declared import Document
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import EntryError
from jobs.core.schedule.actual_days import ActualDays
from jobs.core.schedule.people import MAX_NAME, PARTS, NamedPerson

MAX_PEOPLE = 100
MAX_ACTUAL_DAYS = 200


def read_people(about: Reader) -> tuple[NamedPerson, ...]:
    """The people named to a job, `people` of its document.

    about: the document's `job`. Returns them in their order. Raises DocumentError naming the entry.

    >>> read_people(Reader({"people": [{"name": "Ines Quarrell", "part": "lead"}]}))[0].part
    'lead'
    """
    return about.items("people", _person, most=MAX_PEOPLE)


def write_people(people: Iterable[NamedPerson]) -> list[Document]:
    """People as `read_people` reads them back the same."""
    return [
        {
            "name": person.name,
            "part": person.part,
            "first_day": person.first_day.isoformat() if person.first_day else None,
            "last_day": person.last_day.isoformat() if person.last_day else None,
        }
        for person in people
    ]


def read_actual_days(about: Reader) -> tuple[ActualDays, ...]:
    """When activities of a job really began and ended, `actual_days` of its document.

    about: the document's `job`. Returns them in their order. Raises DocumentError naming the entry.

    >>> days = {"key": "framing", "began_on": "2027-01-05", "began_by": "Ines Quarrell"}
    >>> read_actual_days(Reader({"actual_days": [days]}))[0].has_ended
    False
    """
    days = about.items("actual_days", _actual, most=MAX_ACTUAL_DAYS)
    twice = [key for key, count in Counter(day.key for day in days).items() if count > 1]
    if twice:
        raise about.error("actual_days", f'"{twice[0]}" is given twice')
    return days


def write_actual_days(actual: Iterable[ActualDays]) -> list[Document]:
    """Days as `read_actual_days` reads them back the same."""
    return [write_actual(day) for day in actual]


def write_actual(day: ActualDays) -> Document:
    """When one activity began and ended, as JSON values."""
    return {
        "key": day.key,
        "began_on": day.began_on.isoformat(),
        "began_by": day.began_by,
        "ended_on": day.ended_on.isoformat() if day.ended_on else None,
        "ended_by": day.ended_by,
    }


def _person(reader: Reader) -> NamedPerson:
    name, part = " ".join(reader.text("name", longest=MAX_NAME).split()), reader.choice("part", PARTS, "crew")
    first, last = reader.optional_day("first_day"), reader.optional_day("last_day")
    try:
        return NamedPerson(name, part, first, last)
    except EntryError as error:
        raise reader.error(error.field, error.reason) from error


def _actual(reader: Reader) -> ActualDays:
    key, began_on = reader.text("key", longest=60), reader.day("began_on")
    began_by, ended_on = reader.text("began_by", longest=200), reader.optional_day("ended_on")
    try:
        return ActualDays(key, began_on, began_by, ended_on, reader.text("ended_by", "", longest=200))
    except EntryError as error:
        raise reader.error(error.field, error.reason) from error
