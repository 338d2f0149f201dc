"""What a job has of its own in its chain of activities: activities added to it, and links between any two."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import Literal, get_args

from catalog.core.ground.refusal import InvalidValue
from jobs.core.schedule.critical_path import MAX_LAG_ELAPSED_HOURS, LinkKind

AddedKind = Literal["work", "inspection", "hold"]
ADDED_KINDS: tuple[AddedKind, ...] = get_args(AddedKind)
LINK_KINDS: tuple[LinkKind, ...] = get_args(LinkKind)

MAX_WORKDAYS = 500
MAX_CREW_HOURS = 20_000
MAX_PEOPLE = 50
MAX_LAG_WORKDAYS = 250


class OwnActivityError(InvalidValue):
    """An added activity or a link that cannot be used; `field` names the entry, the message what would be right."""

    def __init__(self, field: str, reason: str) -> None:
        super().__init__(f"{field}: {reason}")
        self.field, self.reason = field, reason


@dataclass(frozen=True)
class AddedActivity:
    """An activity this job has beside the default chain.

    Args:
        key: its own key, not one of the chain's.
        name: what it is called.
        kind: ``work`` of the crew, an ``inspection`` by others, or a ``hold``, which stands until a named day.
        duration_workdays: working days it takes, 0 to 500; of work either this or its hours, of an inspection
            always, of a hold never.
        crew_hours: man-hours of work, over 0 to 20,000, from which the days follow at the crew's pace.
        crew: people on it, 1 to 50; None for the job's crew. Of work only.
        after: key of the activity it comes after, or None.
        before: key of the activity that waits for it, or None.
        not_before: the day it cannot start before; of a hold the day on which it is expected to be lifted, None
            while nobody said, and the chain then has no days.
        shortest_workdays, longest_workdays: between which it is expected to last, 0 to 500; None for the firm's shares.

    Raises:
        OwnActivityError: an entry out of range, missing, or not one of this kind.

    Source: own rule.

    >>> AddedActivity("scaffold", "Scaffold", crew_hours=12.0, before="framing").kind
    'work'
    """

    key: str
    name: str
    kind: AddedKind = "work"
    duration_workdays: int | None = None
    crew_hours: float | None = None
    crew: int | None = None
    after: str | None = None
    before: str | None = None
    not_before: date | None = None
    shortest_workdays: int | None = None
    longest_workdays: int | None = None

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
    """A link of this job between two of its activities, in place of the default one between them, or beside it.

    Args:
        before, after: keys of the earlier and the later activity.
        kind: ``FS`` finish to start, ``SS`` start to start, ``FF`` finish to finish, ``SF`` start to finish.
        lag_workdays: working days between them, -250 to 250.
        lag_elapsed_hours: hours by the clock instead, 0 to 8,760: curing, drying, warming up.
        left_out: the default link between the two does not hold, and nothing stands in for it.
        name: what is waited for, in words; may be empty.

    Raises:
        OwnActivityError: an activity linked to itself, an unknown kind, a lag out of range, both kinds of lag, or
            a lag of a link that is left out.

    Source: precedence diagramming, as in textbooks of project scheduling.

    >>> LinkChange("boards", "coat-1", "SS", lag_workdays=1).left_out
    False
    """

    before: str
    after: str
    kind: LinkKind = "FS"
    lag_workdays: int = 0
    lag_elapsed_hours: int = 0
    left_out: bool = False
    name: str = ""

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
        raise OwnActivityError(field, f"{value} must lie from {low} to {high}")
