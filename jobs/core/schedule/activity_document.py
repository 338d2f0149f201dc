"""What a job has of its own in its chain of activities, read from its document and written back."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable

from catalog.core.ground.declared import Document
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from jobs.core.schedule.critical_path import MAX_LAG_ELAPSED_HOURS
from jobs.core.schedule.job_activities import (
    ADDED_KINDS,
    LINK_KINDS,
    MAX_CREW_HOURS,
    MAX_LAG_WORKDAYS,
    MAX_PEOPLE,
    MAX_WORKDAYS,
    AddedActivity,
    LinkChange,
    OwnActivityError,
)

MAX_OWN_ACTIVITIES = 40
MAX_LINKS = 200


def read_own_activities(about: Reader) -> tuple[AddedActivity, ...]:
    """The activities a job adds to its chain, `own_activities` of its document.

    about: the document's `job`. Returns them in their order. Raises DocumentError naming the entry.

    >>> read_own_activities(Reader({"own_activities": [{"name": "Scaffold up", "duration_workdays": 1}]}))[0].key
    'scaffold-up'
    """
    activities = about.items("own_activities", _own_activity, most=MAX_OWN_ACTIVITIES)
    _refuse_doubles(about, "own_activities", (activity.key for activity in activities))
    return activities


def write_own_activity(activity: AddedActivity) -> Document:
    return {
        "key": activity.key,
        "name": activity.name,
        "kind": activity.kind,
        "duration_workdays": activity.duration_workdays,
        "crew_hours": activity.crew_hours,
        "crew": activity.crew,
        "after": activity.after,
        "before": activity.before,
        "not_before": activity.not_before.isoformat() if activity.not_before else None,
        "shortest_workdays": activity.shortest_workdays,
        "longest_workdays": activity.longest_workdays,
    }


def read_links(about: Reader) -> tuple[LinkChange, ...]:
    """The links a job has of its own, `links` of its document.

    about: the document's `job`. Returns them in their order. Raises DocumentError naming the entry.

    >>> read_links(Reader({"links": [{"before": "boards", "after": "coat-1", "kind": "SS"}]}))[0].kind
    'SS'
    """
    links = about.items("links", _link, most=MAX_LINKS)
    _refuse_doubles(about, "links", (f"{change.before} to {change.after} {change.kind}" for change in links))
    return links


def write_link(change: LinkChange) -> Document:
    return {
        "before": change.before,
        "after": change.after,
        "kind": change.kind,
        "lag_workdays": change.lag_workdays,
        "lag_elapsed_hours": change.lag_elapsed_hours,
        "left_out": change.left_out,
        "name": change.name,
    }


def key_of_name(name: str) -> str:
    """A key for an activity that has only a name: its letters and figures, joined by hyphens.

    name: any text. Returns the key, "activity" for a name without either.
    Source: own rule.

    >>> key_of_name("Échafaudage, 2 lifts")
    'echafaudage-2-lifts'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return "-".join(re.findall(r"[a-z0-9]+", plain))[:60].strip("-") or "activity"


def _own_activity(reader: Reader) -> AddedActivity:
    name = reader.text("name", longest=120)
    key = reader.text("key", longest=60) if reader.has("key") else reader.text("key", "") or key_of_name(name)
    kind = reader.choice("kind", ADDED_KINDS, "work")
    days = reader.optional_whole("duration_workdays", 0, MAX_WORKDAYS)
    hours = reader.optional_decimal("crew_hours", "0", str(MAX_CREW_HOURS))
    crew = reader.optional_whole("crew", 1, MAX_PEOPLE)
    after = reader.text("after", longest=60) if reader.has("after") else reader.optional_text("after")
    before = reader.text("before", longest=60) if reader.has("before") else reader.optional_text("before")
    day = reader.optional_day("not_before")
    shortest = reader.optional_whole("shortest_workdays", 0, MAX_WORKDAYS)
    longest = reader.optional_whole("longest_workdays", 0, MAX_WORKDAYS)
    # Kept to a thousandth of an hour, as its row is.
    worked = None if hours is None else round(float(hours), 3)
    try:
        return AddedActivity(key, name, kind, days, worked, crew, after, before, day, shortest, longest)
    except OwnActivityError as error:
        raise reader.error(error.field, error.reason) from error


def _link(reader: Reader) -> LinkChange:
    before, after = reader.text("before", longest=60), reader.text("after", longest=60)
    kind = reader.choice("kind", LINK_KINDS, "FS")
    days = reader.whole("lag_workdays", -MAX_LAG_WORKDAYS, MAX_LAG_WORKDAYS, 0)
    hours = reader.whole("lag_elapsed_hours", 0, MAX_LAG_ELAPSED_HOURS, 0)
    left_out, name = reader.flag("left_out", False), reader.text("name", "", longest=120)
    try:
        return LinkChange(before, after, kind, days, hours, left_out, name)
    except OwnActivityError as error:
        raise reader.error(error.field, error.reason) from error


def _refuse_doubles(reader: Reader, name: str, keys: Iterable[str]) -> None:
    twice = [key for key, count in Counter(keys).items() if count > 1]
    if twice:
        raise DocumentError(DocumentProblem(reader.where(name), f'"{key}" is given twice') for key in twice)
