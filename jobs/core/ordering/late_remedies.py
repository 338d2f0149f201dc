"""An item that would come late: what could be done about it, ranked, each with its day and its cost.

Whatever needs a figure that nobody stated is named with what is missing and stands last; no cost is made up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.money import to_cents
from catalog.core.ground.workdays import CalendarError, WorkCalendar
from catalog.core.leads.lead_times import LeadTerm
from catalog.core.leads.order_terms import OrderTerms
from jobs.core.ordering.order_by import Arrival, OrderDateError, arrival, workdays_late
from jobs.core.ordering.order_timing import rush_extra

RemedyKind = Literal["rush", "source", "part", "fetch", "cushion", "resequence", "crew", "promise"]
REMEDY_WORDS: dict[RemedyKind, str] = {
    "rush": "Have it rushed",
    "source": "Take it from elsewhere",
    "part": "Have a part shipped first",
    "fetch": "Fetch it from the supplier",
    "cushion": "Use it from the dock",
    "resequence": "Use the float of its activity",
    "crew": "Put more people on what comes after",
    "promise": "Move the promised day",
}
MAX_CREW = 50


@dataclass(frozen=True)
class OtherSource:
    """Another way to the same or another profile: who sells it, how long that takes, what it costs more.

    Args:
        what: the material and who sells it, in words. term: its lead term in force. calendar: of who sells it.
            cut_off: their hour for orders. extra: what it costs more than the item in money, negative when less, None
            where a price is missing. is_substitute: another material, so the client signs for it.

    Source: own rule.
    """

    what: str
    term: LeadTerm
    calendar: WorkCalendar
    cut_off: time | None = None
    extra: Decimal | None = None
    is_substitute: bool = False


@dataclass(frozen=True)
class PartOffer:
    """A part the supplier would ship ahead. what: in words. dock_on: when it would be here. extra: None not stated."""

    what: str
    dock_on: date
    extra: Decimal | None = None


@dataclass(frozen=True)
class FollowingWork:
    """Work that follows the item: its name, the working days it takes and how many people do it, 1 to 50."""

    name: str
    duration_workdays: int
    crew: int

    def __post_init__(self) -> None:
        if self.duration_workdays < 0 or not 1 <= self.crew <= MAX_CREW:
            raise ValueError(
                f"{self.name}: takes 0 or more working days of 1 to {MAX_CREW} people, "
                f"not {self.duration_workdays} of {self.crew}"
            )

    @property
    def saved_workdays(self) -> int:
        """Working days saved by one more person, at the same hours in all."""
        return self.duration_workdays - math.ceil(self.duration_workdays * self.crew / (self.crew + 1))


@dataclass(frozen=True)
class LateItem:
    """An item that would come after the day it is needed.

    need_by: that day. arrives: as it stands now. price: in money, None while not known. cushion_workdays: of the firm.
    float_workdays: of the activity that wants it, None while the job is not dated. activity: its name.
    following: that activity and those that wait for it. promised_on: the day promised to the client, if any.
    sources: other ways to have it. parts: what could be shipped ahead. is_on_order: whether it is on order already,
    so that another source means calling that off.
    """

    what: str
    need_by: date
    arrives: Arrival
    price: Decimal | None
    cushion_workdays: int
    float_workdays: int | None = None
    activity: str = ""
    following: tuple[FollowingWork, ...] = ()
    promised_on: date | None = None
    sources: tuple[OtherSource, ...] = ()
    parts: tuple[PartOffer, ...] = ()
    is_on_order: bool = False


@dataclass(frozen=True)
class Remedy:
    """One thing that could be done.

    usable: the day the item, or its part, is usable then; None while something is missing. late_workdays: what stays
    late, working days of the firm. cost: money beside the price, negative when it saves, None where not stated.
    gaps: what is missing, as sentences. signed: whether the client has to agree.
    """

    kind: RemedyKind
    sentence: str
    usable: date | None
    late_workdays: int | None
    cost: Decimal | None
    gaps: tuple[str, ...] = ()
    signed: bool = False

    @property
    def label(self) -> str:
        return REMEDY_WORDS[self.kind]

    @property
    def is_in_time(self) -> bool:
        return self.late_workdays == 0


def late_remedies(
    item: LateItem,
    terms: OrderTerms | None,
    *,
    firm: WorkCalendar,
    supplier: WorkCalendar,
    today: date,
    now_at: time | None = None,
    cut_off: time | None = None,
) -> tuple[Remedy, ...]:
    """What could be done about an item that would come late.

    Args:
        item: as it stands. terms: of its supplier, None where nothing was said. firm, supplier: working days. today:
            the firm's day. now_at, cut_off: the firm's time of day and the supplier's hour for orders.

    Returns:
        Those that bring it in time first, the cheapest of them on top; then by the days that stay late; what lacks a
        figure after what has all. Nothing for an item that is not late.

    Raises:
        Nothing of its own: days that cannot be counted are a gap.

    Source: feature list, late remedies; own rule.

    >>> dock, usable = date(2027, 1, 26), date(2027, 1, 29)
    >>> late = LateItem("Base", date(2027, 1, 25), Arrival(dock, dock, dock, usable), None, 3, 2, "trim")
    >>> shop = WorkCalendar("shop")
    >>> result = late_remedies(late, None, firm=shop, supplier=shop, today=date(2027, 1, 4))
    >>> [(entry.kind, entry.late_workdays) for entry in result]
    [('promise', 0), ('cushion', 1), ('resequence', 2), ('rush', None), ('part', None)]
    """
    late = workdays_late(item.need_by, item.arrives.usable, firm)
    if not late:
        return ()
    remedies = [
        _rush(item, terms, firm, supplier, today, now_at, cut_off),
        *_elsewhere(item, firm, today, now_at),
        *_parts(item, firm),
        *_fetched(item, firm),
        *_cushion(item, firm),
        *_float(item, late),
        *_crew(item, late),
        _promise(item, late, firm),
    ]
    return tuple(sorted(remedies, key=_rank))


def _rank(remedy: Remedy) -> tuple[bool, int, bool, Decimal, bool, str]:
    """In time first; then what has a day; of equal days what is known to cost least."""
    cost = remedy.cost if remedy.cost is not None else Decimal(0)
    late = remedy.late_workdays if remedy.late_workdays is not None else 100_000
    # To move the promised day helps nobody but the list: it comes after whatever else costs as little.
    return remedy.late_workdays is None, late, remedy.cost is None, cost, remedy.kind == "promise", remedy.sentence


def _rush(
    item: LateItem,
    terms: OrderTerms | None,
    firm: WorkCalendar,
    supplier: WorkCalendar,
    today: date,
    now_at: time | None,
    cut_off: time | None,
) -> Remedy:
    term = terms.rush_term if terms else None
    if terms is None or term is None:
        gap = "The supplier has stated no rush: ask, and enter its order terms."
        return Remedy("rush", f"{item.what}: ask the supplier for a rush.", None, None, None, (gap,))
    cost = rush_extra(terms, item.price)
    gaps: tuple[str, ...] = () if cost is not None else ("What the rush costs is not stated, or of a price not known.",)
    gaps += ("Ask whether what is on order can still be rushed.",) if item.is_on_order else ()
    begins = "Rushed from today" if item.is_on_order else "Ordered today as a rush"
    message = f"{begins}: {term.production.in_words()}, then {term.transit_workdays} in transit"
    rushed = replace(item, cushion_workdays=terms.rush_cushion(item.cushion_workdays))
    return _arriving("rush", message, rushed, term, firm, supplier, today, now_at, cut_off, cost, gaps)


def _elsewhere(item: LateItem, firm: WorkCalendar, today: date, now_at: time | None) -> Iterable[Remedy]:
    for source in item.sources:
        gaps: tuple[str, ...] = (
            () if source.extra is not None else ("What it costs more is not known: a price is missing.",)
        )
        gaps += ("What calling off the order costs is not stated.",) if item.is_on_order else ()
        message = f"Ordered today instead: {source.what}"
        message += ", which the client signs for" if source.is_substitute else ""
        cost = None if source.extra is None else to_cents(source.extra)
        yield _arriving(
            "source",
            message,
            item,
            source.term,
            firm,
            source.calendar,
            today,
            now_at,
            source.cut_off,
            cost,
            gaps,
            source.is_substitute,
        )


def _arriving(
    kind: RemedyKind,
    message: str,
    item: LateItem,
    term: LeadTerm,
    firm: WorkCalendar,
    supplier: WorkCalendar,
    today: date,
    now_at: time | None,
    cut_off: time | None,
    cost: Decimal | None,
    gaps: tuple[str, ...],
    signed: bool = False,
) -> Remedy:
    try:
        usable = arrival(
            today,
            term,
            cushion_workdays=item.cushion_workdays,
            firm=firm,
            supplier=supplier,
            placed_at=now_at,
            cut_off=cut_off,
        ).usable
    except OrderDateError as error:
        return Remedy(kind, f"{message}.", None, None, cost, (*gaps, str(error)), signed)
    late = workdays_late(item.need_by, usable, firm)
    return Remedy(kind, f"{message}; usable {day_words(usable)}.", usable, late, cost, gaps, signed)


def _parts(item: LateItem, firm: WorkCalendar) -> Iterable[Remedy]:
    for part in item.parts:
        usable = firm.on_or_after(part.dock_on)
        gaps = () if part.extra is not None else ("What a second shipment costs is not stated.",)
        message = (
            f"{part.what} first, at the dock {day_words(part.dock_on)}; the rest follows and the work begins there."
        )
        late = workdays_late(item.need_by, usable, firm)
        yield Remedy("part", message, usable, late, part.extra, gaps)
    if not item.parts:
        gap = "What the supplier could ship first, and when, is not known: ask."
        yield Remedy("part", f"{item.what}: ask which pieces could be shipped first.", None, None, None, (gap,))


def _fetched(item: LateItem, firm: WorkCalendar) -> Iterable[Remedy]:
    """Own people drive on the day it is ready: the transit is saved (common practice)."""
    try:
        there = firm.on_or_after(item.arrives.ship)
        usable = firm.forward(there, item.cushion_workdays)
    except CalendarError:
        return
    if there < item.arrives.dock:
        message = (
            f"Fetched on {day_words(there)}, when it is ready, instead of waiting for {day_words(item.arrives.dock)}."
        )
        gap = "What the trip costs is not stated."
        yield Remedy("fetch", message, usable, workdays_late(item.need_by, usable, firm), None, (gap,))


def _cushion(item: LateItem, firm: WorkCalendar) -> Iterable[Remedy]:
    if item.cushion_workdays and item.arrives.dock < item.arrives.usable:
        days = f"{item.cushion_workdays} cushion day{'' if item.cushion_workdays == 1 else 's'}"
        message = (
            f"Used from the dock on {day_words(item.arrives.dock)}, without the {days}: nothing may go wrong then."
        )
        late = workdays_late(item.need_by, item.arrives.dock, firm)
        yield Remedy("cushion", message, item.arrives.dock, late, to_cents(Decimal(0)))


def _float(item: LateItem, late: int) -> Iterable[Remedy]:
    if item.float_workdays is None:
        gap = "The job has no dates, so what can wait is not known."
        yield Remedy("resequence", f"{item.what}: let its activity wait.", None, None, None, (gap,))
    elif item.float_workdays > 0:
        waits = min(late, item.float_workdays)
        message = (
            f"{_capital(item.activity or 'the activity')} starts {_days(waits)} later and moves no other end: it has "
            f"{_days(item.float_workdays)} of float."
        )
        yield Remedy("resequence", message, item.arrives.usable, late - waits, to_cents(Decimal(0)))


def _crew(item: LateItem, late: int) -> Iterable[Remedy]:
    helped = [work for work in item.following if work.saved_workdays > 0]
    if not helped:
        return
    saved = sum(work.saved_workdays for work in helped)
    names = ", ".join(work.name[0].lower() + work.name[1:] for work in helped)
    message = f"One more person on {names} wins back {_days(saved)}, so the end moves by {_days(max(0, late - saved))}."
    gap = "The hours stay the same; what the extra person costs beyond them is not stated."
    yield Remedy("crew", message, item.arrives.usable, max(0, late - saved), None, (gap,))


def _promise(item: LateItem, late: int, firm: WorkCalendar) -> Remedy:
    moved = max(0, late - max(0, item.float_workdays or 0))
    if item.promised_on is None:
        message = f"No day is promised. The job ends {_days(moved)} later than planned."
    else:
        message = f"Ask the client to take {day_words(firm.forward(item.promised_on, moved))} in the place of "
        message += f"{day_words(item.promised_on)}, {_days(moved)} later."
    gap = "What the delay costs the firm is not stated."
    return Remedy("promise", message, item.arrives.usable, 0, None, (gap,), signed=item.promised_on is not None)


def in_time(remedies: Sequence[Remedy]) -> tuple[Remedy, ...]:
    """Those that keep the day of need without moving what was promised.

    remedies: of `late_remedies`. Returns them in the same order. Source: own rule.

    >>> in_time(())
    ()
    """
    return tuple(remedy for remedy in remedies if remedy.is_in_time and remedy.kind != "promise")


def _days(count: int) -> str:
    return f"{count} working day{'' if count == 1 else 's'}"


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]
