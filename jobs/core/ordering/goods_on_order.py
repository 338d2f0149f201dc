"""When goods on order may be relied on, against the day they are needed: one answer for every page, feed and mail."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.core.ground.workdays import CalendarError, WorkCalendar
from jobs.core.ordering.needs import DatedNeed
from jobs.core.ordering.order_by import days_in_hand


@dataclass(frozen=True)
class LineComing:
    """What is still to come of one placed order line.

    key: of the line, rising as lines are ordered. expected: as of `CarriedLine.expected`, zero or more. expected_on: at
    the dock by the last promise, else as quoted; None where neither is known. promised: whether the supplier said so.
    """

    key: int
    expected: Decimal
    expected_on: date | None
    promised: bool = False


@dataclass(frozen=True)
class GoodsOnOrder:
    """How an item that is on order stands to the day it is needed.

    last: the line expected last, of those of which anything is to come. is_here: nothing is to come any more.
    is_overdue: its day is past. usable_on: from when the last of it may be relied on: from its dock day, or from today
    where that is past, the cushion days on. spare_workdays: the firm's from usable_on to need-by, negative when it
    comes too late. Both None where a day is missing.
    """

    last: LineComing
    is_here: bool
    is_overdue: bool = False
    usable_on: date | None = None
    spare_workdays: int | None = None

    @property
    def is_late(self) -> bool:
        """Whether it comes after the day it is needed."""
        return not self.is_here and self.spare_workdays is not None and self.spare_workdays < 0


def goods_on_order(
    lines: Iterable[LineComing], need_by: date | None, *, cushion_workdays: int, firm: WorkCalendar, today: date
) -> GoodsOnOrder:
    """Say when the last of an item on order may be relied on.

    Args:
        lines: of placed orders for the item, those ordered again included, one at least. need_by: the day it is
            needed, None while unknown. cushion_workdays: of the firm between dock and need, 0 or more. firm: its
            working days. today: its day.

    Returns:
        How the item stands.

    Raises:
        ValueError: no line.

    Source: trade rules on dates, forward from the dock; that what is overdue is counted from today is our own.

    >>> two = LineComing(1, Decimal(2), date(2027, 8, 6))
    >>> goods_on_order([two], date(2027, 8, 11), cushion_workdays=3, firm=WorkCalendar("firm"), today=date(2027, 8, 2))
    ... # doctest: +ELLIPSIS
    GoodsOnOrder(last=LineComing(...), is_here=False, is_overdue=False, usable_on=datetime.date(2027, 8, 11), ...=0)
    """
    last = max(lines, key=lambda coming: (coming.expected > 0, coming.expected_on or date.max, coming.key))
    if not last.expected:
        return GoodsOnOrder(last, is_here=True)
    if last.expected_on is None:
        return GoodsOnOrder(last, is_here=False)
    overdue = last.expected_on < today
    try:
        usable = firm.forward(firm.on_or_after(today if overdue else last.expected_on), cushion_workdays)
        spare = None if need_by is None else days_in_hand(usable, need_by, firm)
    except CalendarError:
        return GoodsOnOrder(last, False, overdue)
    return GoodsOnOrder(last, False, overdue, usable, spare)


def usable_if_late(need: DatedNeed, on_order: GoodsOnOrder | None, *, is_covered: bool) -> date | None:
    """From when all of an item may be relied on, where that is after the day it is needed.

    Args:
        need: as counted today. on_order: what is on order of it, None when nothing is. is_covered: whether nothing of
            it is still to be ordered; else what is left counts as if it were ordered today.

    Returns:
        The day; None for what is in time or cannot be dated.

    Source: own rule.
    """
    days = [on_order.usable_on] if on_order and on_order.is_late else []
    if not is_covered and need.late_workdays and need.if_ordered_today is not None:
        days.append(need.if_ordered_today.usable)
    return max((day for day in days if day is not None), default=None)
