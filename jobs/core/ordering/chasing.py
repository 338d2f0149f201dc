"""What to ask a supplier next about an order, who asks, and since when it is due: the chase list, drawn from facts.

Nothing is remembered between two looks: what has been heard is a fact, and the steps follow from the facts and the
day, so a list made twice on one day says the same twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.deviations import ANSWER_WORKDAYS, Deviation, DeviationKind
from jobs.core.ordering.order_by import workdays_late
from jobs.core.ordering.release import STEP_WORDS, Step

ChaseKind = Literal["confirm", "half_lead", "ship_check", "promise_passed", "claim", "claim_lapsed"] | DeviationKind
NEAR_WORKDAYS = 3
"""Working days before the dock day, and before the end of a claim, from which they are near."""
TO_THE_OWNER_WORKDAYS = 5
"""After so many working days without an answer the owner asks."""
FIRST: Mapping[ChaseKind, int] = {
    "claim": 0,
    "claim_lapsed": 1,
    "short": 2,
    "wall_moved": 3,
    "promised_late": 4,
    "other_radius": 5,
    "other_pieces": 6,
    "later": 7,
    "dearer": 8,
    "promise_passed": 9,
    "confirm": 10,
    "ship_check": 11,
    "half_lead": 12,
}
ONE_OF_THESE: frozenset[ChaseKind] = frozenset({"confirm", "half_lead", "ship_check", "promise_passed"})
"""Of these an order asks only the first; all others cannot wait for each other."""


@dataclass(frozen=True)
class ClaimFacts:
    """Something received damaged, wrong or in excess. what: in words. count: of it, such as "2 damaged pieces".

    received_on: the day it came. deadline: last day the supplier takes a claim, None while no claim term is known.
    """

    key: str
    what: str
    received_on: date
    deadline: date | None
    count: str = ""


@dataclass(frozen=True)
class OrderFacts:
    """What is known of one order.

    Args:
        key: its number. supplier: name for people. placed_on: the day it was sent. confirmed_on: the day the supplier
            confirmed it, None while it has not. promised_on: the day it should be at the dock by its last promise, or
            by the quoted term while there is none; None when neither is known. is_promised: whether the supplier
            said so. last_word_on: the last day anything was heard. is_complete: whether everything is here. claims:
            not made yet. deviations: what goes otherwise than ordered. claimed: without an answer. uncredited: key and
            words of what went back and is not credited.

    Raises:
        ValueError: something heard before it was placed.

    Source: own rule.

    >>> OrderFacts("PO-7", "The mill", date(2027, 3, 1)).last_heard is None
    True
    """

    key: str
    supplier: str
    placed_on: date
    confirmed_on: date | None = None
    promised_on: date | None = None
    is_promised: bool = False
    last_word_on: date | None = None
    is_complete: bool = False
    claims: tuple[ClaimFacts, ...] = ()
    deviations: tuple[Deviation, ...] = ()
    claimed: tuple[ClaimFacts, ...] = ()
    uncredited: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        for name in ("confirmed_on", "last_word_on"):
            day = getattr(self, name)
            if day is not None and day < self.placed_on:
                raise ValueError(f"order {self.key}: {name} {day} is before the day it was placed, {self.placed_on}")

    @property
    def last_heard(self) -> date | None:
        """The last day the supplier said anything of it; None while nothing was heard."""
        return max((day for day in (self.confirmed_on, self.last_word_on) if day is not None), default=None)


@dataclass(frozen=True)
class Chase:
    """One thing to ask. action: in words. step: who asks. since: the first day it was due.

    workdays_open: the firm's working days from then to today.
    """

    order: str
    kind: ChaseKind
    action: str
    step: Step
    since: date
    workdays_open: int

    @property
    def who(self) -> str:
        """Who asks, in words."""
        return STEP_WORDS[self.step]


def confirm_by(placed_on: date, firm: WorkCalendar) -> date:
    """The day by which a supplier is to confirm an order; from then on it is asked.

    Args:
        placed_on: the day it was placed. firm: its working days.

    Returns:
        Two working days of the firm later.

    Raises:
        CalendarError: days that cannot be counted.

    Source: common practice of buying; the number is our own.

    >>> confirm_by(date(2027, 3, 5), WorkCalendar("firm")).isoformat()
    '2027-03-09'
    """
    return firm.forward(placed_on, ANSWER_WORKDAYS)


def chases(order: OrderFacts, today: date, firm: WorkCalendar) -> tuple[Chase, ...]:
    """What to ask about one order today.

    Args:
        order: what is known of it. today: the firm's day. firm: its working days.

    Returns:
        The most pressing first; none while nothing is due. No confirmation two working days after it was placed;
        half the time to its promise gone with no word since; its dock day near and nothing heard since then; its
        promise past, unless what is missing is to be claimed; a claim not made the day after it came, or one that
        ended; what goes otherwise than ordered. After five working days the owner asks.

    Raises:
        CalendarError: days that cannot be counted.

    Source: common practice of buying; the numbers are our own.

    >>> placed = OrderFacts("PO-7", "The mill", date(2027, 3, 1))
    >>> [(act.kind, act.since.isoformat(), act.step) for act in chases(placed, date(2027, 3, 3), WorkCalendar("firm"))]
    [('confirm', '2027-03-03', 'office')]
    """
    every = (*_of_claims(order, today, firm), *_of_deviations(order, today, firm), *_of_delivery(order, today, firm))
    result = [chase for chase in every if chase is not None]
    return tuple(sorted(result, key=lambda chase: (FIRST[chase.kind], chase.since, chase.action)))


def chase_list(orders: Iterable[OrderFacts], today: date, firm: WorkCalendar) -> tuple[Chase, ...]:
    """The first thing to ask about each order, over all orders.

    Args:
        orders: any number. today: the firm's day. firm: its working days.

    Returns:
        One an order at most, the one due longest first. Claims and what goes otherwise than ordered stand beside it.

    Raises:
        CalendarError: days that cannot be counted.

    Source: own rule.

    >>> chase_list([], date(2027, 3, 3), WorkCalendar("firm"))
    ()
    """
    result: list[Chase] = []
    for order in orders:
        every = chases(order, today, firm)
        result += [chase for chase in every if chase.kind not in ONE_OF_THESE]
        result += [chase for chase in every if chase.kind in ONE_OF_THESE][:1]
    return tuple(sorted(result, key=place_of))


def place_of(chase: Chase) -> tuple[date, int, str]:
    """Where it stands in the list over all orders: by the day since when it is due, then by what presses.

    >>> place_of(Chase("PO-7", "claim", "Claim it.", "office", date(2027, 3, 3), 0))
    (datetime.date(2027, 3, 3), 0, 'PO-7')
    """
    return chase.since, FIRST[chase.kind], chase.order


def _of_delivery(order: OrderFacts, today: date, firm: WorkCalendar) -> Iterable[Chase | None]:
    if order.is_complete:
        return
    if order.confirmed_on is None:
        message = f"{order.supplier} has not confirmed {order.key}, placed {day_words(order.placed_on)}: ask for it."
        yield _due(order, "confirm", message, confirm_by(order.placed_on, firm), today, firm)
    promised = order.promised_on
    if promised is None:
        return
    by = "promised" if order.is_promised else "due by the quoted time"
    if today > promised and order.claims:
        # What is not here came damaged or wrong: it is claimed first, and a new day is asked for with it.
        return
    if today > promised:
        late = max(1, workdays_late(promised, today, firm))
        message = (
            f"{order.key} was {by} {day_words(promised)} and is not all here, {late} working "
            f"day{'' if late == 1 else 's'} on: ask {order.supplier} for a new day."
        )
        yield _due(order, "promise_passed", message, firm.forward(promised, 1), today, firm)
        return
    near = max(firm.back(promised, NEAR_WORKDAYS), order.placed_on)
    if today >= near:
        if not _heard_since(order, near):
            message = f"{order.key} is {by} {day_words(promised)}: ask {order.supplier} whether it ships."
            yield _due(order, "ship_check", message, near, today, firm)
        return
    half = firm.forward(order.placed_on, max(1, firm.workdays_between(order.placed_on, promised) // 2))
    # An order of a few days would be asked after on the day after it was placed; its dock day is near soon enough.
    if firm.workdays_between(half, promised) > NEAR_WORKDAYS and not _heard_since(order, half):
        message = f"Half the time to {day_words(promised)} is gone without a word of {order.key}: ask {order.supplier}."
        yield _due(order, "half_lead", message, half, today, firm)


def _of_claims(order: OrderFacts, today: date, firm: WorkCalendar) -> Iterable[Chase | None]:
    for claim in order.claims:
        if claim.deadline is None:
            message = f"{claim.what}: claim it from {order.supplier}; until when is not known, so do it now."
            yield _due(order, "claim", message, claim.received_on, today, firm, owner_after=None)
        elif today > claim.deadline:
            message = f"{claim.what}: the time to claim it from {order.supplier} ended {day_words(claim.deadline)}."
            yield Chase(order.key, "claim_lapsed", message, "owner", claim.deadline, _open(claim.deadline, today, firm))
        else:
            near = min(firm.forward(claim.received_on, 1), claim.deadline)
            message = f"{claim.what}: claim it from {order.supplier} by {day_words(claim.deadline)}."
            yield _due(order, "claim", message, near, today, firm, owner_after=None)


def _of_deviations(order: OrderFacts, today: date, firm: WorkCalendar) -> Iterable[Chase | None]:
    for deviation in order.deviations:
        yield _due(
            order,
            deviation.kind,
            f"{order.key}: {deviation.sentence} {deviation.action}",
            deviation.since or today,
            today,
            firm,
        )


def _heard_since(order: OrderFacts, day: date) -> bool:
    return order.last_heard is not None and order.last_heard >= day


def _due(
    order: OrderFacts,
    kind: ChaseKind,
    action: str,
    since: date,
    today: date,
    firm: WorkCalendar,
    owner_after: int | None = TO_THE_OWNER_WORKDAYS,
) -> Chase | None:
    if today < since:
        return None
    waited = _open(since, today, firm)
    step: Step = "owner" if owner_after is not None and waited >= owner_after else "office"
    return Chase(order.key, kind, action, step, since, waited)


def _open(since: date, today: date, firm: WorkCalendar) -> int:
    return max(0, firm.workdays_between(since, today))
