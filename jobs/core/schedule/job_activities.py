"""What a job has of its own in its chain of activities: activities added to it, and links between any two."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal, get_args

from catalog.core.ground.declared import As, Real, Text, Whole, build, read_fields
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import key_of_name
from catalog.core.ground.refusal import EntryError
from jobs.core.schedule.critical_path import MAX_LAG_ELAPSED_HOURS, LinkKind

AddedKind = Literal["work", "inspection", "hold"]
ADDED_KINDS: tuple[AddedKind, ...] = get_args(AddedKind)
LINK_KINDS: tuple[LinkKind, ...] = get_args(LinkKind)

MAX_WORKDAYS = 500
MAX_CREW_HOURS = 20_000
MAX_PEOPLE = 50
MAX_LAG_WORKDAYS = 250


SHORTEST = "The fewest working days it is expected to last, 0 to 500; null for the firm's share."
LONGEST = "The most working days it is expected to last, 0 to 500; null for the firm's share."


class OwnActivityError(EntryError):
    """An added activity or a link that cannot be used."""


@dataclass(frozen=True)
class AddedActivity:
    """An activity of the job's own, beside the default chain. The chain has no days while its hold has none.

    Raises:
        OwnActivityError: an entry out of range, missing, or not one of this kind.

    Source: own rule.

    >>> AddedActivity("scaffold", "Scaffold", crew_hours=12.0, before="framing").kind
    'work'
    """

    document_name = "own_activity"

    key: Annotated[
        str,
        Text(60),
        "Its key, not one of the chain's; one is made of the name when it is left out.",
        As(absent=""),
    ]
    name: Annotated[str, Text(120), "What it is called."]
    kind: Annotated[
        AddedKind, "work of the crew, an inspection by others, or a hold, which lasts until a named day."
    ] = "work"
    duration_workdays: Annotated[
        int | None,
        Whole(0, MAX_WORKDAYS),
        "Working days it takes, 0 to 500: of work this or its crew hours, of an inspection always, of a hold never.",
    ] = None
    # Kept to a thousandth of an hour, as its row is.
    crew_hours: Annotated[
        float | None,
        Real("0", str(MAX_CREW_HOURS), 3),
        "Man-hours of work, over 0 to 20000; the days follow at the crew's pace.",
    ] = None
    crew: Annotated[
        int | None, Whole(1, MAX_PEOPLE), "People on it, 1 to 50; null for the job's crew. Of work only."
    ] = None
    after: Annotated[str | None, Text(60), "Key of the activity it comes after."] = None
    before: Annotated[str | None, Text(60), "Key of the activity that waits for it."] = None
    not_before: Annotated[
        date | None,
        "It cannot start before this day; of a hold the day on which it is expected to be lifted.",
    ] = None
    shortest_workdays: Annotated[int | None, Whole(0, MAX_WORKDAYS), SHORTEST] = None
    longest_workdays: Annotated[int | None, Whole(0, MAX_WORKDAYS), LONGEST] = None

    @classmethod
    def from_document(cls, reader: Reader) -> AddedActivity:
        values = read_fields(cls, reader)
        key = values["key"] if reader.has("key") else key_of_name(values["name"])
        return build(cls, reader, values | {"key": key})

    def __post_init__(self) -> None:
        if not self.key.strip() or not self.name.strip():
            raise OwnActivityError("name" if self.key.strip() else "key", "must not be empty")
        if self.kind not in ADDED_KINDS:
            raise OwnActivityError("kind", f'"{self.kind}" is not one of {", ".join(ADDED_KINDS)}')
        _check_whole("duration_workdays", self.duration_workdays, 0, MAX_WORKDAYS)
        _check_whole("crew", self.crew, 1, MAX_PEOPLE)
        hours = self.crew_hours
        if hours is not None and not (math.isfinite(hours) and 0 < hours <= MAX_CREW_HOURS):
            raise OwnActivityError("crew_hours", f"{hours:g} must be over 0 and at most {MAX_CREW_HOURS:,} h")
        self._check_length()
        check_spread(self.shortest_workdays, self.longest_workdays)
        if self.after is not None and self.after == self.before:
            raise OwnActivityError("before", f'"{self.before}" cannot come both before and after it')
        if self.key in (self.after, self.before):
            raise OwnActivityError("after" if self.key == self.after else "before", "it cannot wait for itself")

    def _check_length(self) -> None:
        days, hours = self.duration_workdays, self.crew_hours
        if self.kind == "work" and (days is None) == (hours is None):
            raise OwnActivityError("duration_workdays", "of work, give either its working days or its crew hours")
        if self.kind == "inspection" and days is None:
            raise OwnActivityError("duration_workdays", "of an inspection, give the working days to wait for it")
        if self.kind == "hold" and days is not None:
            raise OwnActivityError("duration_workdays", "a hold has no length; give the day it is lifted instead")
        if self.kind != "work":
            for field, value in (("crew_hours", hours), ("crew", self.crew)):
                if value is not None:
                    raise OwnActivityError(field, "is of work of the firm's own crew only")


@dataclass(frozen=True)
class LinkChange:
    """A link of the job between two activities. Those given for a pair stand in place of the default link of that pair.

    Raises:
        OwnActivityError: an activity linked to itself, an unknown kind, a lag out of range, both kinds of lag, or
            a lag of a link that is left out.

    Source: precedence diagramming, as in textbooks of project scheduling.

    >>> LinkChange("boards", "coat-1", "SS", lag_workdays=1).left_out
    False
    """

    document_name = "activity_link"

    before: Annotated[str, Text(60), "Key of the earlier activity."]
    after: Annotated[str, Text(60), "Key of the later activity."]
    kind: Annotated[LinkKind, "FS finish to start, SS start to start, FF finish to finish, SF start to finish."] = "FS"
    lag_workdays: Annotated[
        int,
        Whole(-MAX_LAG_WORKDAYS, MAX_LAG_WORKDAYS),
        "Working days between them, -250 to 250; not beside hours.",
    ] = 0
    lag_elapsed_hours: Annotated[
        int,
        Whole(0, MAX_LAG_ELAPSED_HOURS),
        "Hours by the clock between them, 0 to 8760: curing, drying, warming up.",
    ] = 0
    left_out: Annotated[bool, "The default link of the pair does not hold, and no other does."] = False
    name: Annotated[str, Text(120), "What is waited for."] = ""

    def __post_init__(self) -> None:
        for field, key in (("before", self.before), ("after", self.after)):
            if not key.strip():
                raise OwnActivityError(field, "must name an activity")
        if self.before == self.after:
            raise OwnActivityError("after", f'"{self.after}" cannot wait for itself')
        if self.kind not in LINK_KINDS:
            raise OwnActivityError("kind", f'"{self.kind}" is not one of {", ".join(LINK_KINDS)}')
        _check_whole("lag_workdays", self.lag_workdays, -MAX_LAG_WORKDAYS, MAX_LAG_WORKDAYS)
        _check_whole("lag_elapsed_hours", self.lag_elapsed_hours, 0, MAX_LAG_ELAPSED_HOURS)
        if self.lag_workdays and self.lag_elapsed_hours:
            raise OwnActivityError("lag_elapsed_hours", "give the wait in working days or in hours, not both")
        if self.left_out and (self.lag_workdays or self.lag_elapsed_hours):
            raise OwnActivityError("left_out", "a link that is left out has no wait; empty the wait")


def check_spread(shortest: int | None, longest: int | None) -> None:
    """Refuse the ends between which an activity is expected to last when they are out of range or order.

    Args:
        shortest, longest: working days, 0 to 500, or None where nobody said.

    Raises:
        OwnActivityError: naming the end.

    Source: own rule.

    >>> check_spread(2, 5)
    """
    _check_whole("shortest_workdays", shortest, 0, MAX_WORKDAYS)
    _check_whole("longest_workdays", longest, 0, MAX_WORKDAYS)
    if shortest is not None and longest is not None and longest < shortest:
        raise OwnActivityError("longest_workdays", f"{longest} must not be less than the shortest, {shortest}")


def _check_whole(field: str, value: int | None, low: int, high: int) -> None:
    if value is not None and (isinstance(value, bool) or not low <= value <= high):
        raise OwnActivityError(field, f"{value} must be from {low} to {high}")
