"""What went otherwise than ordered, a fact at a time: what it is, since when, what it costs, who does what about it.

Facts are drawn from how a line stands, never remembered. Each has a mark made of what it is about, so that it is told
once: another day promised, another confirmation, another radius is another fact. A fact somebody settled is silent; so
is one the supplier was asked about again, until it has had its time to answer.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Literal, get_args

from catalog.core.ground.day_words import day_words
from catalog.core.ground.units import System
from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.confirmation import Compared, Comparison
from jobs.core.ordering.order_by import workdays_late
from jobs.core.ordering.order_lines import count_in_words
from jobs.core.ordering.release import STEP_WORDS, Step
from jobs.core.ordering.wall_moves import OrderedFit

DeviationKind = Literal["dearer", "later", "other_radius", "other_pieces", "promised_late", "wall_moved", "short"]
KINDS: tuple[DeviationKind, ...] = get_args(DeviationKind)
OF_CONFIRMATIONS: frozenset[DeviationKind] = frozenset({"dearer", "later", "other_radius", "other_pieces"})
LABELS: Mapping[DeviationKind, str] = {
    "dearer": "Confirmed dearer",
    "later": "Confirmed later",
    "other_radius": "Confirmed to another radius",
    "other_pieces": "Other pieces confirmed",
    "promised_late": "Promised too late",
    "wall_moved": "Wall changed since ordered",
    "short": "Short after damage",
}
_COMPARED: Mapping[Compared, DeviationKind] = {
    "price": "dearer",
    "date": "later",
    "radius": "other_radius",
    "face": "other_radius",
    "quantity": "other_pieces",
    "lengths": "other_pieces",
}
Settlement = Literal["accepted", "asked_again"]
ANSWER_WORKDAYS = 2
"""Working days of the firm a supplier has to answer."""


@dataclass(frozen=True)
class Settled:
    """What somebody settled of a line. mark: of the fact. on: the day. need_by: as it was then, None where no day was
    known; a promise accepted for one day is not accepted for an earlier one."""

    mark: str
    how: Settlement
    on: date
    need_by: date | None = None


@dataclass(frozen=True)
class ConfirmedFacts:
    """What was confirmed of a line last. mark: of that confirmation. accepted: by somebody as it stands."""

    mark: str
    comparison: Comparison
    received_on: date
    accepted: bool = False
    promised_on: date | None = None


@dataclass(frozen=True)
class PromiseFacts:
    """The last day a supplier gave for goods still to come, and since when it is known."""

    promised_on: date
    told_on: date


@dataclass(frozen=True)
class ShortFacts:
    """Goods that came damaged or wrong and that nothing replaces yet.

    mark: of the receipts. quantity: above zero, in `unit`. came_on: the last of them. worth: at the price they were
    ordered at, None where none was known. order_by: the last day to order them again in time. usable: if ordered
    today. late_workdays: then.
    """

    mark: str
    quantity: Decimal
    unit: str
    came_on: date
    worth: Decimal | None = None
    order_by: date | None = None
    usable: date | None = None
    late_workdays: int | None = None


@dataclass(frozen=True)
class LineFacts:
    """How one line of a placed order stands.

    order: its number. supplier, what: in words. need_by: the day its job needs it now. cushion_workdays: of the firm,
    between dock and need. is_complete: whether nothing more is to come. confirmed, promise, short: None where there is
    none. misfits: its pieces that fit the wall no more. settled: what was settled of it. place: on its order.
    """

    order: str
    supplier: str
    what: str
    need_by: date | None
    cushion_workdays: int
    is_complete: bool
    confirmed: ConfirmedFacts | None = None
    promise: PromiseFacts | None = None
    misfits: tuple[OrderedFit, ...] = ()
    short: ShortFacts | None = None
    settled: tuple[Settled, ...] = ()
    place: int = 0


@dataclass(frozen=True)
class Deviation:
    """One fact. sentence: what it is. action: what to do. since: None where nobody knows. usable: when the goods may be
    relied on, None where that is not what it is about. late_workdays: then, after the day they are needed, >= 0. extra:
    money it costs more, None where that is not known or nothing. by: the last day to act in time, where one is known.
    count: of what is short, such as "2 pieces". place: of its line on the order.
    """

    order: str
    kind: DeviationKind
    mark: str
    sentence: str
    action: str
    step: Step
    since: date | None = None
    usable: date | None = None
    late_workdays: int | None = None
    extra: Decimal | None = None
    by: date | None = None
    count: str = ""
    place: int = 0

    @property
    def label(self) -> str:
        return LABELS[self.kind]

    @property
    def who(self) -> str:
        return STEP_WORDS[self.step]


def deviations(line: LineFacts, today: date, firm: WorkCalendar, system: System) -> tuple[Deviation, ...]:
    """What of a line goes otherwise than it was ordered, and is not settled.

    Args:
        line: how it stands. today: the firm's day. firm: its working days. system: of the words.

    Returns:
        What was confirmed dearer, later though in time, to another radius or as other pieces, until the line is
        complete; a promise after the day of need; pieces that fit their wall no more; what is short after damage.

    Raises:
        CalendarError: days that cannot be counted.

    Source: own rule.

    >>> promise = PromiseFacts(date(2027, 1, 28), date(2027, 1, 4))
    >>> late = LineFacts("O-1", "The mill", "Base", date(2027, 1, 25), 3, False, promise=promise)
    >>> [(row.kind, row.late_workdays) for row in deviations(late, date(2027, 1, 5), WorkCalendar("shop"), "metric")]
    [('promised_late', 6)]
    """
    return tuple(
        deviation for deviation, silent_until in standing_deviations(line, firm, system) if silent_until <= today
    )


def standing_deviations(line: LineFacts, firm: WorkCalendar, system: System) -> tuple[tuple[Deviation, date], ...]:
    """The same for whoever reads it later: each fact that is not accepted, with the day it is told from.

    Args:
        line, firm, system: as of `deviations`.

    Returns:
        The facts; the day is `date.min`, or of what the supplier was asked again the one by which an answer is due.

    Raises:
        CalendarError: days that cannot be counted.

    Source: own rule.

    >>> promise = PromiseFacts(date(2027, 1, 28), date(2027, 1, 4))
    >>> asked = Settled("promised 2027-01-28", "asked_again", date(2027, 1, 5))
    >>> late = LineFacts("O-1", "The mill", "Base", date(2027, 1, 25), 3, False, promise=promise, settled=(asked,))
    >>> [day for _, day in standing_deviations(late, WorkCalendar("shop"), "metric")]
    [datetime.date(2027, 1, 7)]
    """
    result = [*_confirmed(line), *_promised(line, firm), *_moved(line, system), *_short(line)]
    standing = (replace(deviation, place=line.place) for deviation in result if not _is_accepted(deviation, line))
    return tuple((deviation, _silent_until(deviation, line, firm)) for deviation in standing)


def _silent_until(deviation: Deviation, line: LineFacts, firm: WorkCalendar) -> date:
    days = [each.on for each in line.settled if each.mark == deviation.mark and each.how == "asked_again"]
    return max((firm.forward(day, ANSWER_WORKDAYS) for day in days), default=date.min)


def _is_accepted(deviation: Deviation, line: LineFacts) -> bool:
    confirmed = line.confirmed
    if confirmed is not None and confirmed.accepted:
        if deviation.kind in OF_CONFIRMATIONS:
            return True
        if deviation.kind == "promised_late" and line.promise and confirmed.promised_on == line.promise.promised_on:
            return True
    return any(_accepts(each, deviation, line) for each in line.settled if each.mark == deviation.mark)


def _accepts(each: Settled, deviation: Deviation, line: LineFacts) -> bool:
    if each.how != "accepted":
        return False
    is_earlier = line.need_by is not None and each.need_by is not None and line.need_by < each.need_by
    return not (deviation.kind == "promised_late" and is_earlier)


def _confirmed(line: LineFacts) -> Iterator[Deviation]:
    confirmed = line.confirmed
    if confirmed is None or line.is_complete:
        return
    words: dict[DeviationKind, list[str]] = {}
    extra = None
    for difference in confirmed.comparison.differences:
        if difference.is_late or (difference.extra is not None and difference.extra <= 0):
            continue
        words.setdefault(_COMPARED[difference.compared], []).append(difference.sentence)
        extra = difference.extra or extra
    for kind, sentences in words.items():
        cost = extra if kind == "dearer" else None
        message = " ".join(sentences)
        yield Deviation(
            line.order, kind, confirmed.mark, message, _ACTIONS[kind].format(line.supplier), "office",
            confirmed.received_on, extra=cost,
        )  # fmt: skip


_ACTIONS: Mapping[DeviationKind, str] = {
    "dearer": "Accept the price, or ask {} again.",
    "later": "Accept the day, or ask {} again.",
    "other_radius": "Tell {} the radius that was ordered.",
    "other_pieces": "Accept it, or ask {} again.",
}


def _promised(line: LineFacts, firm: WorkCalendar) -> Iterator[Deviation]:
    promise = line.promise
    if promise is None or line.need_by is None or line.is_complete:
        return
    usable = firm.forward(firm.on_or_after(promise.promised_on), line.cushion_workdays)
    late = workdays_late(line.need_by, usable, firm)
    if late:
        message = (
            f"{line.what}: promised {day_words(promise.promised_on)}, usable {day_words(usable)}, {_days(late)} too "
        )
        message += f"late for {day_words(line.need_by)}."
        action = f"Ask {line.supplier} for a rush or a part shipment, or fetch it."
        mark = f"promised {promise.promised_on.isoformat()}"
        yield Deviation(line.order, "promised_late", mark, message, action, "office", promise.told_on, usable, late)


def _moved(line: LineFacts, system: System) -> Iterator[Deviation]:
    if not line.misfits:
        return
    first, more = line.misfits[0], len(line.misfits) - 1
    message = first.words(system) + (f" {more} more radi{'us' if more == 1 else 'i'} moved." if more else "")
    if all(misfit.where == "on_site" for misfit in line.misfits):
        action = "Order again what does not fit."
    elif any(misfit.fit == "not_known" for misfit in line.misfits):
        action = f"Ask {line.supplier} how far the pieces flex."
    else:
        action = f"Ask {line.supplier} whether the pieces can still be changed."
    yield Deviation(line.order, "wall_moved", _mark_of_radii(line.misfits), message, action, "office")


def _mark_of_radii(misfits: Sequence[OrderedFit]) -> str:
    """Of what the wall has now: a wall that moves once more is another fact."""
    figures = sorted(
        f"{misfit.moved.wall}|{misfit.moved.run}|{misfit.moved.piece}|{misfit.moved.side}|{misfit.moved.now_mm}"
        for misfit in misfits
    )
    return f"wall {hashlib.sha256(chr(10).join(figures).encode()).hexdigest()[:32]}"


def _short(line: LineFacts) -> Iterator[Deviation]:
    short = line.short
    if short is None:
        return
    message = f"{short.quantity.normalize():f} {short.unit} of {line.what} came damaged or wrong."
    if short.usable is not None and short.late_workdays is not None:
        late = f"{_days(short.late_workdays)} late" if short.late_workdays else "in time"
        message += f" Ordered today: usable {day_words(short.usable)}, {late}."
    action = "Order again today." if short.late_workdays else "Order again."
    if short.order_by is not None and not short.late_workdays:
        action = f"Order again by {day_words(short.order_by)}."
    yield Deviation(
        line.order, "short", short.mark, message, action, "office", short.came_on, short.usable, short.late_workdays,
        short.worth, short.order_by, count_in_words(short.quantity, short.unit),
    )  # fmt: skip


def _days(count: int) -> str:
    return f"{count} working day{'' if count == 1 else 's'}"


FactKey = tuple[int, DeviationKind, str]
"""Line, kind and mark: what makes a fact the same fact while it holds."""


@dataclass(frozen=True)
class Changed:
    """Facts that came up and facts that ended since the last look."""

    new: frozenset[FactKey]
    ended: frozenset[FactKey]


def changed_facts(holding: Collection[FactKey], known: Collection[FactKey]) -> Changed:
    """Which facts came up and which ended.

    holding: all that hold now. known: those that came up before and have not ended. Returns both; a fact that ended and
    holds again came up anew. Source: own rule.

    >>> changed_facts([(1, "short", "a")], [(2, "short", "b")]).new
    frozenset({(1, 'short', 'a')})
    """
    return Changed(frozenset(holding) - frozenset(known), frozenset(known) - frozenset(holding))
