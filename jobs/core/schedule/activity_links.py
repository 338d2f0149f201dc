"""The links of a job's chain of activities: the default order with its waits, and what the job has of its own."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated

from catalog.core.ground.declared import As, View
from jobs.core.measure.findings import Finding
from jobs.core.schedule.critical_path import Link
from jobs.core.schedule.job_activities import AddedActivity, LinkChange

ON_SITE: Mapping[str, str] = {"trim": "trim-on-site", "boards": "boards-on-site"}
"""The event by which the material of an activity lies on site to acclimatise."""


@dataclass(frozen=True)
class Wait(View):
    """Time that passes between two activities and is nobody's work.

    Args:
        before, after: keys of the activities it lies between.
        hours: by the clock, 0 when it is counted in working days.
        workdays: working days, 0 when it is counted by the clock; negative where the later may begin earlier.
        what: what is waited for, in a word or two; may be empty.

    Source: own rule.

    >>> Wait("coat-1", "coat-2", 24, 0, "drying").in_words
    '24 h drying'
    """

    before: str
    after: str
    hours: int
    workdays: int
    what: Annotated[str, As(name="for")]

    @property
    def in_words(self) -> str:
        if self.hours:
            return f"{self.hours} h {self.what}".rstrip()
        days = "day" if abs(self.workdays) == 1 else "days"
        return f"{self.workdays} working {days} {self.what}".rstrip()


@dataclass(frozen=True)
class WaitHours:
    """The firm's waits by the clock, each in hours, zero or more.

    coat, paint, trim: from when it is put on. day: hours of a working day, of which a thing put on in its course
    has had them by the evening. acclimatise: by key of the activity whose material lies on site so long before.
    """

    coat: float
    paint: float
    trim: float
    day: float
    acclimatise: Mapping[str, float]

    def after(self, key: str) -> tuple[float, str]:
        """The hours to wait after an activity, from when its material is put on, and what for.

        >>> WaitHours(24, 4, 12, 8, {}).after("coat-2")
        (24, 'drying')
        """
        if key.startswith("coat-"):
            return self.coat, "drying"
        if key in ("primer", "paint"):
            return self.paint, "drying"
        return (self.trim, "curing") if key == "trim" else (0.0, "")


@dataclass(frozen=True)
class ChainLinks:
    """The links of a chain, the waits among them in words, and what is wrong with the job's own."""

    links: tuple[Link, ...]
    waits: tuple[Wait, ...]
    findings: tuple[Finding, ...]


def chain_links(
    chain: Sequence[str], own: Sequence[AddedActivity], changes: Sequence[LinkChange], hours: WaitHours
) -> ChainLinks:
    """Link a chain: each activity after the one before it, then what the job adds, changes and leaves out.

    Args:
        chain: keys of the default activities that happen, in their order.
        own: activities of the job's own.
        changes: its own links; those given for a pair stand in place of the default link of that pair.
        hours: the firm's waits.

    Returns:
        The links with their waits. A link to an activity that does not happen is left out and is a gap.

    Raises:
        Nothing of its own.

    Source: own convention for the order; waits run by the clock and then to the next working morning.

    >>> hours = WaitHours(24, 4, 12, 8, {})
    >>> found = chain_links(("coat-1", "coat-2"), (), (), hours)
    >>> found.links[0].lag_elapsed_hours, found.waits[0].in_words
    (16, '24 h drying')
    """
    links: dict[tuple[str, str], list[Link]] = {}
    waits: dict[tuple[str, str], list[Wait]] = {}
    for before, after in pairwise(chain):
        clock, what = hours.after(before)
        # What goes on in the course of a day dries from then: of 24 h, eight pass before the day is over.
        links[before, after] = [Link(before, after, lag_elapsed_hours=math.ceil(max(0.0, clock - hours.day)))]
        if clock:
            waits[before, after] = [Wait(before, after, math.ceil(clock), 0, what)]
    for key, clock in hours.acclimatise.items():
        event = ON_SITE[key]
        links[event, key] = [Link(event, key, lag_elapsed_hours=math.ceil(clock))]
        waits[event, key] = [Wait(event, key, math.ceil(clock), 0, "acclimatising")]

    known = {*chain, *(activity.key for activity in own), *(ON_SITE[key] for key in hours.acclimatise)}
    findings: list[Finding] = []
    for row in own:
        for entry, other in (("after", row.after), ("before", row.before)):
            if other is None:
                continue
            if other not in known:
                findings.append(_not_there(f"activities/{row.key}/{entry}", other, f'"{row.name}" stands {entry} it'))
                continue
            first, second = (other, row.key) if entry == "after" else (row.key, other)
            links.setdefault((first, second), []).append(Link(first, second))
    for pair, given in _by_pair(changes).items():
        lost = next((key for key in pair if key not in known), None)
        if lost is not None:
            findings.append(_not_there(f"activities/link/{pair[0]}/{pair[1]}", lost, "a link of this job names it"))
            continue
        stored = [change for change in given if not change.left_out]
        if not stored and pair not in links:
            message = f'The job leaves out the link from "{pair[0]}" to "{pair[1]}", which its chain does not have.'
            findings.append(Finding(f"activities/link/{pair[0]}/{pair[1]}", "caution", message))
        links[pair] = [_link(change) for change in stored]
        waits[pair] = [
            Wait(*pair, change.lag_elapsed_hours, change.lag_workdays, change.name)
            for change in stored
            if change.lag_elapsed_hours or change.lag_workdays
        ]
    return ChainLinks(
        tuple(link for each in links.values() for link in each),
        tuple(wait for each in waits.values() for wait in each),
        tuple(findings),
    )


def _by_pair(changes: Iterable[LinkChange]) -> dict[tuple[str, str], list[LinkChange]]:
    by_pair: dict[tuple[str, str], list[LinkChange]] = {}
    for change in changes:
        by_pair.setdefault((change.before, change.after), []).append(change)
    return by_pair


def _link(change: LinkChange) -> Link:
    return Link(change.before, change.after, change.kind, change.lag_workdays, change.lag_elapsed_hours)


def _not_there(key: str, activity: str, because: str) -> Finding:
    message = f'There is no activity "{activity}" on this job, or it is left out, and {because}: name another or none.'
    return Finding(key, "gap", message)
