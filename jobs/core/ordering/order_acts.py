"""What is to be done about an order and by when: the rows of its page; the first of them is its act in every list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.chasing import FIRST, ONE_OF_THESE, ChaseKind, OrderFacts, chases, confirm_by
from jobs.core.ordering.deviations import Deviation, DeviationKind
from jobs.core.ordering.order_by import days_in_hand, days_in_hand_in_words, is_late

ActKind = ChaseKind | Literal["answer", "credit", "arrive"]
_ASKS: dict[ChaseKind, str] = {
    "confirm": "Enter the confirmation",
    "half_lead": "Ask {} how it stands",
    "ship_check": "Ask {} whether it ships",
    "promise_passed": "Ask {} for a new day",
    "dearer": "Decide on the price",
    "later": "Decide on the later day",
    "other_radius": "Tell {} the radius ordered",
    "other_pieces": "Decide on the other pieces",
    "promised_late": "Ask {} for an earlier day",
    "wall_moved": "Ask {} to change the pieces",
}
STATES: dict[DeviationKind, str] = {
    "dearer": "confirmed otherwise",
    "later": "confirmed otherwise",
    "other_radius": "confirmed otherwise",
    "other_pieces": "confirmed otherwise",
    "wall_moved": "wall moved",
}
"""How an order stands, in the words of lists; what is short or late has a figure besides."""


@dataclass(frozen=True)
class OrderAct:
    """One thing to do about an order.

    words: verb and thing. says: why, in sentences; may be empty. by: the last day for it, None where none is known.
    in_hand: working days of the firm to that day, negative once it is past. mark: what it is about: the receipt of a
    claim, the return, the deviation; empty for the order as a whole.
    """

    kind: ActKind
    words: str
    says: str
    by: date | None
    in_hand: int | None
    mark: str = ""
    place: int = 0

    @property
    def days(self) -> int | None:
        """Working days in hand, or late."""
        return None if self.in_hand is None else abs(self.in_hand)

    @property
    def is_late(self) -> bool:
        return is_late(self.in_hand)

    @property
    def is_pressing(self) -> bool:
        """Whether it is late, or somebody has to decide now."""
        return self.is_late or self.kind in STATES


def order_acts(order: OrderFacts, today: date, firm: WorkCalendar) -> tuple[OrderAct, ...]:
    """What is to be done about one order.

    Args:
        order: what is known of it. today: the firm's day. firm: its working days.

    Returns:
        The one with the fewest days in hand first, those without a day last; none once all of it is here and settled.
        What is asked about its delivery is one act, the most pressing, or the day it arrives.

    Raises:
        CalendarError: days that cannot be counted.

    Source: common practice of buying.

    >>> placed = OrderFacts("PO-7", "The mill", date(2027, 3, 1))
    >>> [(entry.words, entry.in_hand) for entry in order_acts(placed, date(2027, 3, 1), WorkCalendar("firm"))]
    [('Enter the confirmation', 2)]
    """
    activities = [*_claims(order, today, firm), *_deviations(order, today, firm), *_delivery(order, today, firm)]
    return tuple(sorted(activities, key=_rank))


def _rank(activity: OrderAct) -> tuple[bool, int, int]:
    return activity.in_hand is None, activity.in_hand or 0, FIRST.get(activity.kind, len(FIRST))  # type: ignore[arg-type]


def _claims(order: OrderFacts, today: date, firm: WorkCalendar) -> Iterator[OrderAct]:
    for claim in order.claims:
        kind: ActKind = "claim" if claim.deadline is None or today <= claim.deadline else "claim_lapsed"
        by = claim.deadline or today
        says = "" if claim.deadline else f"{order.supplier} gave no claim period: claim today."
        yield OrderAct(kind, f"Claim {claim.count or claim.what}", says, by, days_in_hand(today, by, firm), claim.key)
    for claim in order.claimed:
        yield OrderAct("answer", f"Enter the answer: {claim.count or claim.what}", "", None, None, claim.key)
    for key, what in order.uncredited:
        yield OrderAct("credit", f"Enter the credit: {what}", "", None, None, key)


def _deviations(order: OrderFacts, today: date, firm: WorkCalendar) -> Iterator[OrderAct]:
    for deviation in order.deviations:
        by = (deviation.by if deviation.kind == "short" else None) or today
        words = (
            _ASKS[deviation.kind].format(order.supplier)
            if deviation.kind in _ASKS
            else f"Order {deviation.count} again"
        )
        yield OrderAct(
            deviation.kind, words, _says(deviation), by, days_in_hand(today, by, firm), deviation.mark, deviation.place
        )


def _says(deviation: Deviation) -> str:
    """Of what is short what a new order would mean; that it came damaged the piece itself says."""
    if deviation.kind != "short":
        return deviation.sentence
    if deviation.usable is None:
        return "When it would be usable is not known: enter the supplier's days."
    late = days_in_hand_in_words(-deviation.late_workdays) if deviation.late_workdays else "in time"
    return f"Ordered today it is usable {day_words(deviation.usable)}, {late}."


def _delivery(order: OrderFacts, today: date, firm: WorkCalendar) -> Iterator[OrderAct]:
    if order.is_complete:
        return
    chase = next((entry for entry in chases(order, today, firm) if entry.kind in ONE_OF_THESE), None)
    if chase is not None:
        by = order.promised_on if chase.kind in ("ship_check", "promise_passed") else chase.since
        by = by or chase.since
        words = _ASKS[chase.kind].format(order.supplier)
        yield OrderAct(chase.kind, words, _question_of(order, chase.kind), by, days_in_hand(today, by, firm))
    elif order.confirmed_on is None and order.placed_on is not None:
        by = confirm_by(order.placed_on, firm)
        yield OrderAct("confirm", _ASKS["confirm"], "", by, days_in_hand(today, by, firm))
    else:
        in_hand = None if order.promised_on is None else days_in_hand(today, order.promised_on, firm)
        yield OrderAct("arrive", "Check in what comes", _question_of(order, "half_lead"), order.promised_on, in_hand)


def _question_of(order: OrderFacts, kind: ChaseKind) -> str:
    if kind == "confirm":
        return f"Placed {day_words(order.placed_on)}, not confirmed: ask {order.supplier} for it."
    if order.promised_on is None:
        return "No day is known for it."
    return f"{'Promised' if order.is_promised else 'Quoted for'} {day_words(order.promised_on)}."


def state_words(order: OrderFacts, *, here: int, lines: int, late_workdays: int) -> tuple[str, ...]:
    """How an order stands, for lists.

    Args:
        order: what is known of it. here, lines: how many of its lines are here, of how many. late_workdays: of what
            comes last, after the day it is needed; 0 for in time.

    Returns:
        What is short, confirmed otherwise, moved, late, not confirmed or here; the gravest first.

    Raises:
        Nothing.

    Source: own rule.

    >>> state_words(OrderFacts("PO-7", "The mill", date(2027, 3, 1)), here=1, lines=4, late_workdays=2)
    ('late 2', 'not confirmed', '1 of 4 here')
    """
    short = [f"{deviation.count} short" for deviation in order.deviations if deviation.kind == "short"]
    other = [STATES[deviation.kind] for deviation in order.deviations if deviation.kind in STATES]
    late = [f"late {late_workdays}"] if late_workdays else []
    silent = ["not confirmed"] if order.confirmed_on is None and not order.is_complete else []
    came = [f"{here} of {lines} here"] if here and not order.is_complete else []
    claimed = ["claim not answered"] if order.claimed else []
    return tuple(dict.fromkeys((*short, *other, *late, *silent, *came, *claimed)))
