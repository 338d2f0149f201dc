"""What came of an order line: what is still open, what must be claimed, how long it really took, and what a
replacement would mean for the day it is needed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.refusal import EntryError
from catalog.core.ground.workdays import WorkCalendar
from catalog.core.leads.lead_times import LeadTerm
from jobs.core.ordering.order_by import Arrival, arrival, workdays_late

ReceiptStanding = Literal["nothing", "part", "complete", "excess", "short", "ended"]


class ReceiptError(EntryError):
    """Something received that cannot be."""


@dataclass(frozen=True)
class Received:
    """How much of a line came at once, by the state it came in.

    Args:
        good, damaged, wrong: in the unit of the order line, each zero or more, together more than zero. kept: whether
            the damaged and wrong ones are used as they are.

    Raises:
        ReceiptError: naming the figure that cannot be.

    Source: own rule.

    >>> Received(Decimal(7), Decimal(2)).came
    Decimal('9')
    """

    good: Decimal
    damaged: Decimal = Decimal(0)
    wrong: Decimal = Decimal(0)
    kept: bool = False

    def __post_init__(self) -> None:
        for name in ("good", "damaged", "wrong"):
            amount = getattr(self, name)
            if not amount.is_finite() or amount < 0:
                raise ReceiptError(name, f"what came is zero or more, not {amount}")
        if not self.came:
            raise ReceiptError("good", "say how much came, good, damaged or wrong; nothing was given")

    @property
    def came(self) -> Decimal:
        return self.good + self.damaged + self.wrong

    @property
    def to_claim(self) -> Decimal:
        """What the supplier is to be told of."""
        return self.damaged + self.wrong

    @property
    def usable(self) -> Decimal:
        return self.came if self.kept else self.good

    @property
    def bad(self) -> Decimal:
        """What came and is not used."""
        return self.came - self.usable


@dataclass(frozen=True)
class ReceiptState:
    """Where a line stands after all that came.

    open: still to come. short: came damaged or wrong and nothing good came in its place; it is not waited for, it is to
    be ordered again. excess: good beyond what was ordered.
    """

    ordered: Decimal
    good: Decimal
    damaged: Decimal
    wrong: Decimal
    open: Decimal
    excess: Decimal
    standing: ReceiptStanding
    short: Decimal = Decimal(0)

    @property
    def is_complete(self) -> bool:
        return self.standing in ("complete", "excess", "ended")


def receipt_state(ordered: Decimal, receipts: Iterable[Received], *, ended: bool = False) -> ReceiptState:
    """Add up what came of a line.

    Args:
        ordered: how much was ordered, more than zero. receipts: everything that came, in any order. ended: whether
            somebody said that no more of it is expected.

    Returns:
        The state. Damaged and wrong pieces are not waited for: they leave the line short.

    Raises:
        ReceiptError: nothing was ordered.

    Source: own rule; the check is the worked example of nine lengths of which two came damaged.

    >>> state = receipt_state(Decimal(9), [Received(Decimal(7), Decimal(2))])
    >>> state.open, state.short, state.standing
    (Decimal('0'), Decimal('2'), 'short')
    """
    if not ordered.is_finite() or ordered <= 0:
        raise ReceiptError("ordered", f"a line is of more than zero, not {ordered}")
    every = list(receipts)
    usable = sum((received.usable for received in every), Decimal(0))
    bad = sum((received.bad for received in every), Decimal(0))
    open_quantity = Decimal(0) if ended else max(Decimal(0), ordered - usable - bad)
    short, excess = max(Decimal(0), min(bad, ordered - usable)), max(Decimal(0), usable - ordered)
    standing: ReceiptStanding = "part" if every else "nothing"
    if not open_quantity:
        standing = "excess" if excess else "complete" if usable == ordered else "ended" if ended else "short"
    return ReceiptState(
        ordered,
        sum((received.good for received in every), Decimal(0)),
        sum((received.damaged for received in every), Decimal(0)),
        sum((received.wrong for received in every), Decimal(0)),
        open_quantity,
        excess,
        standing,
        short,
    )


def taken_workdays(counted_from: date, received_on: date, supplier: WorkCalendar) -> int:
    """How long an order really took, in the days its lead term counts in.

    Args:
        counted_from: the day the supplier counts the order from. received_on: the day it came. supplier: its working
            days.

    Returns:
        Working days of the supplier after the first up to the second, zero or more. The quoted time is counted in the
        same way, from the order to the day it should be at the dock, so that the two may be set side by side.

    Raises:
        ReceiptError: it came before it was ordered.

    Source: own rule.

    >>> taken_workdays(date(2027, 6, 29), date(2027, 8, 6), WorkCalendar("mill"))
    28
    """
    if received_on < counted_from:
        raise ReceiptError(
            "received_on",
            f"it counts as ordered on {day_words(counted_from)} and cannot have come before, "
            f"on {day_words(received_on)}",
        )
    return supplier.workdays_between(counted_from, received_on)


@dataclass(frozen=True)
class ReplacementCheck:
    """When a replacement ordered on a day would be usable, against the day of need.

    late_workdays: working days of the firm after need_by, 0 when it is in time; None where no day of need is known.
    """

    ordered_on: date
    arrives: Arrival
    need_by: date | None
    late_workdays: int | None

    @property
    def sentence(self) -> str:
        """What it means, in words."""
        message = f"Ordered again on {day_words(self.ordered_on)} it is usable {day_words(self.arrives.usable)}"
        if self.need_by is None or self.late_workdays is None:
            return f"{message}; no day is known by which it is needed."
        if not self.late_workdays:
            return f"{message}, in time for {day_words(self.need_by)}."
        days = f"{self.late_workdays} working day{'' if self.late_workdays == 1 else 's'}"
        return f"{message}, {days} after {day_words(self.need_by)}."


def replacement_check(
    order_day: date,
    need_by: date | None,
    term: LeadTerm,
    *,
    cushion_workdays: int,
    firm: WorkCalendar,
    supplier: WorkCalendar,
    placed_at: time | None = None,
    cut_off: time | None = None,
) -> ReplacementCheck:
    """Whether what is ordered again still comes in time.

    Args:
        order_day: the day it is ordered again. need_by: the day it must be usable, None while not known. term: the
            supplier's lead term in force. cushion_workdays: of the firm, 0 or more. firm, supplier: working days.
            placed_at, cut_off: as of `arrival`.

    Returns:
        The check.

    Raises:
        OrderDateError: days that cannot be counted.

    Source: trade rules on dates, forward from the order.

    >>> term = LeadTerm(15, "workdays", 2, "price list", date(2027, 1, 4))
    >>> shop = WorkCalendar("shop")
    >>> replacement_check(
    ...     date(2027, 8, 6), date(2027, 8, 11), term, cushion_workdays=3, firm=shop, supplier=shop
    ... ).sentence
    'Ordered again on Fri 6 Aug 2027 it is usable Fri 3 Sep 2027, 17 working days after Wed 11 Aug 2027.'
    """
    arrives = arrival(
        order_day,
        term,
        cushion_workdays=cushion_workdays,
        firm=firm,
        supplier=supplier,
        placed_at=placed_at,
        cut_off=cut_off,
    )
    late = None if need_by is None else workdays_late(need_by, arrives.usable, firm)
    return ReplacementCheck(order_day, arrives, need_by, late)
