"""Order-by dates: the last day an item can be ordered and still be usable by the day it is needed.

``back`` counts working days strictly before a day, in the calendar named. The first count is backwards::

    need-by -> dock (cushion, firm) -> ship (transit, supplier) -> ordered (production, supplier, then the
    last day on which the firm works too)

An order of that day comes late where the supplier is shut on the dock or the ship day. Order-by is the last
day the firm works, not after that first one, from which the pass forward is usable by need-by. Ship and dock
are those of the pass forward; decide-by lies the sign-off days before order-by.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time, timedelta
from typing import Literal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.refusal import InvalidValue
from catalog.core.ground.workdays import CalendarError, WorkCalendar, combine
from catalog.core.leads.lead_times import LeadTerm

Standing = Literal["ahead", "due_today", "late"]


class OrderDateError(InvalidValue):
    """Dates of an order that cannot be worked out; the message says what would be right."""


@dataclass(frozen=True)
class OrderDates:
    """The dates of one order, latest first.

    Args:
        need_by: the day the item must be usable on site.
        dock: the day it arrives if it is ordered on order_by.
        ship: the day it then leaves the supplier.
        order_by: the last day it may be ordered and still be usable by need_by.
        decide_by: the last day the client may sign off what it is.
        cut_off: the supplier's hour: an order after it counts as the next working day's; None when there is
            none.

    Raises:
        OrderDateError: the dates are out of order.

    Source: trade rules, dates (own rule).

    >>> day = date(2026, 12, 10)
    >>> OrderDates(day, day, day, day, day).order_by_in_words()
    'by the end of Thu 10 Dec 2026'
    """

    need_by: date
    dock: date
    ship: date
    order_by: date
    decide_by: date
    cut_off: time | None = None

    def __post_init__(self) -> None:
        if not self.decide_by <= self.order_by <= self.ship <= self.dock <= self.need_by:
            raise OrderDateError(
                "The dates of an order run decide-by, order-by, ship, dock, need-by; "
                f"{self.decide_by}, {self.order_by}, {self.ship}, {self.dock}, {self.need_by} do not."
            )

    def order_by_in_words(self) -> str:
        """Say until when the order may be placed.

        Returns:
            The order-by day, with the hour when the supplier has a cut-off.

        Source: own wording.

        >>> day = date(2026, 12, 10)
        >>> OrderDates(day, day, day, day, day, time(14)).order_by_in_words()
        'by 14:00 on Thu 10 Dec 2026'
        """
        if self.cut_off is None:
            return f"by the end of {day_words(self.order_by)}"
        return f"by {self.cut_off:%H:%M} on {day_words(self.order_by)}"


@dataclass(frozen=True)
class Arrival:
    """When an order placed on a day becomes usable.

    Args:
        counted_from: the supplier's working day the order counts from.
        ship: the day it leaves the supplier.
        dock: the day it arrives.
        usable: the day it may be relied on, the cushion included.

    Raises:
        OrderDateError: the days are out of order.

    Source: trade rules, dates (own rule).

    >>> day = date(2027, 1, 29)
    >>> Arrival(day, day, day, day).usable
    datetime.date(2027, 1, 29)
    """

    counted_from: date
    ship: date
    dock: date
    usable: date

    def __post_init__(self) -> None:
        if not self.counted_from <= self.ship <= self.dock <= self.usable:
            raise OrderDateError(
                "The days of an arrival run ordered, ship, dock, usable; "
                f"{self.counted_from}, {self.ship}, {self.dock}, {self.usable} do not."
            )


def order_by(
    need_by: date,
    term: LeadTerm,
    *,
    cushion_workdays: int,
    sign_off_workdays: int,
    firm: WorkCalendar,
    supplier: WorkCalendar,
    cut_off: time | None = None,
) -> OrderDates:
    """Find the last day to order an item that is in time, and the day to decide on it.

    Args:
        need_by: the day the item must be usable on site.
        term: the supplier's lead term in force.
        cushion_workdays: working days of the firm kept in hand before need-by, 0 or more.
        sign_off_workdays: working days of the firm the client is given to decide, 0 or more.
        firm: the firm's calendar.
        supplier: the supplier's calendar.
        cut_off: the supplier's hour for orders, kept with the dates; None when there is none.

    Returns:
        The dates of the order; ship and dock are those of an order placed on the order-by day, in time for the
        supplier's hour.

    Raises:
        OrderDateError: a number of days that is negative or not whole, or calendars that never meet.

    Source: trade rules, dates (own rule): each count is strictly before; a calendar-day term goes back that
        many days and then to the last working day of the supplier; never a day that would be late.

    >>> term = LeadTerm(15, "workdays", 2, "price list", date(2027, 1, 4))
    >>> shop = WorkCalendar("shop")
    >>> order_by(
    ...     date(2027, 6, 30), term, cushion_workdays=3, sign_off_workdays=5, firm=shop, supplier=shop
    ... ).order_by
    datetime.date(2027, 6, 2)
    """
    try:
        in_time = _last_counted(need_by, term, cushion_workdays, firm, supplier)
        order_day = firm.on_or_before(min(_counted_back(need_by, term, cushion_workdays, firm, supplier), in_time))
        decide_by = firm.back(order_day, sign_off_workdays)
        comes = arrival(order_day, term, cushion_workdays=cushion_workdays, firm=firm, supplier=supplier)
    except CalendarError as problem:
        raise OrderDateError(f"The order-by date cannot be worked out: {problem}") from None
    return OrderDates(need_by, comes.dock, comes.ship, order_day, decide_by, cut_off)


def dock_by(need_by: date, cushion_workdays: int, firm: WorkCalendar) -> date:
    """Say by which day an item must be at the dock to be usable in time.

    Args:
        need_by: the day the item must be usable on site.
        cushion_workdays: working days of the firm kept in hand before it, 0 or more.
        firm: the firm's calendar.

    Returns:
        The day to ask a supplier for; an order in time may well come earlier.

    Raises:
        CalendarError: a number of days that is negative or not whole, or a calendar that is shut too long.

    Source: trade rules, dates (own rule).

    >>> dock_by(date(2027, 1, 25), 3, WorkCalendar("shop"))
    datetime.date(2027, 1, 20)
    """
    return firm.back(need_by, cushion_workdays)


def arrival(
    order_day: date,
    term: LeadTerm,
    *,
    cushion_workdays: int,
    firm: WorkCalendar,
    supplier: WorkCalendar,
    placed_at: time | None = None,
    cut_off: time | None = None,
) -> Arrival:
    """Work forward from the day an item is ordered to the day it is usable on site.

    Args:
        order_day: the day the order is placed.
        term: the supplier's lead term in force.
        cushion_workdays: working days of the firm added after arrival, 0 or more.
        firm: the firm's calendar.
        supplier: the supplier's calendar.
        placed_at: the hour the order is placed, or None when unknown (taken to be in time).
        cut_off: the supplier's hour for orders; an order after it counts as the next working day's.

    Returns:
        The days of the arrival.

    Raises:
        OrderDateError: a number of days that is negative or not whole, or a calendar that is shut too long.

    Source: trade rules, dates (own rule).

    >>> term = LeadTerm(15, "workdays", 2, "price list", date(2027, 1, 4))
    >>> shop = WorkCalendar("shop")
    >>> arrival(date(2027, 6, 2), term, cushion_workdays=3, firm=shop, supplier=shop).usable
    datetime.date(2027, 6, 30)
    """
    try:
        counted_from = supplier.on_or_after(order_day)
        missed = placed_at is not None and cut_off is not None and placed_at > cut_off
        if missed and counted_from == order_day:
            counted_from = supplier.forward(order_day, 1)
        ship = _production_forward(counted_from, term, supplier)
        dock = firm.on_or_after(supplier.forward(ship, term.transit_workdays))
        usable = firm.forward(dock, cushion_workdays)
    except CalendarError as problem:
        raise OrderDateError(f"The arrival cannot be worked out: {problem}") from None
    return Arrival(counted_from, ship, dock, usable)


def usable_day(
    order_day: date,
    term: LeadTerm,
    *,
    cushion_workdays: int,
    firm: WorkCalendar,
    supplier: WorkCalendar,
    placed_at: time | None = None,
    cut_off: time | None = None,
) -> date:
    """Work forward from the day an item is ordered to the one day that matters.

    Args:
        order_day: the day the order is placed.
        term: the supplier's lead term in force.
        cushion_workdays: working days of the firm added after arrival, 0 or more.
        firm: the firm's calendar.
        supplier: the supplier's calendar.
        placed_at: the hour the order is placed, or None when unknown (taken to be in time).
        cut_off: the supplier's hour for orders; an order after it counts as the next working day's.

    Returns:
        The day the item is usable on site.

    Raises:
        OrderDateError: as ``arrival``.

    Source: trade rules, dates (own rule).

    >>> term = LeadTerm(10, "calendar_days", 1, "telephone", date(2027, 1, 4))
    >>> shop = WorkCalendar("shop")
    >>> usable_day(date(2027, 6, 2), term, cushion_workdays=0, firm=shop, supplier=shop)
    datetime.date(2027, 6, 15)
    """
    return arrival(
        order_day,
        term,
        cushion_workdays=cushion_workdays,
        firm=firm,
        supplier=supplier,
        placed_at=placed_at,
        cut_off=cut_off,
    ).usable


def workdays_late(need_by: date, usable: date, firm: WorkCalendar) -> int:
    """Count how late an item will be.

    Args:
        need_by: the day the item must be usable on site.
        usable: the day it will be.
        firm: the firm's calendar.

    Returns:
        Working days of the firm after need-by up to the usable day; 0 when it is in time.

    Raises:
        CalendarError: not days.

    Source: trade rules, dates (own rule).

    >>> workdays_late(date(2027, 1, 25), date(2027, 1, 29), WorkCalendar("shop"))
    4
    """
    return max(0, firm.workdays_between(need_by, usable))


def days_in_hand(today: date, by: date, firm: WorkCalendar) -> int:
    """Count the working days left until an order-by or decide-by day.

    Args:
        today: the day asked on.
        by: the day it must be done by.
        firm: the firm's calendar.

    Returns:
        Working days of the firm after today up to ``by``: 0 on that very day only, negative once it is past
        (on a day off right after it, already -1).

    Raises:
        CalendarError: not days.

    Source: trade rules, dates (own rule).

    >>> days_in_hand(date(2026, 12, 1), date(2026, 12, 10), WorkCalendar("shop"))
    7
    """
    counted = firm.workdays_between(today, by)
    if today == by:
        return 0
    # A Saturday after a Friday's order-by has no working day between: it is late all the same.
    return min(counted, -1) if today > by else max(counted, 1)


def standing(days: int) -> Standing:
    """Name the state that a number of days in hand means.

    Args:
        days: working days in hand, any sign.

    Returns:
        ``ahead``, ``due_today`` or ``late``.

    Source: own rule (zero and negative are two states).

    >>> standing(0), standing(-1)
    ('due_today', 'late')
    """
    if days > 0:
        return "ahead"
    return "due_today" if days == 0 else "late"


def is_late(days: int | None) -> bool:
    """Whether the day of something to do is past. What has no day is not.

    Args:
        days: working days in hand, None where no day is known.

    Returns:
        As `standing` says, for every list and count.

    Source: own rule.

    >>> is_late(-1), is_late(0), is_late(None)
    (True, False, False)
    """
    return days is not None and standing(days) == "late"


def late_count(count: int, what: str) -> str:
    """How much is late, and of what: pages count different things.

    Args:
        count: of them. what: one of them.

    Returns:
        A phrase for lists, pages and mails.

    Source: own wording.

    >>> late_count(1, "item"), late_count(3, "order")
    ('1 item late', '3 orders late')
    """
    return f"{count} {what}{'' if count == 1 else 's'} late"


def days_in_hand_in_words(days: int) -> str:
    """Say a number of days in hand.

    Args:
        days: working days in hand, any sign.

    Returns:
        A phrase for lists and papers.

    Source: own wording.

    >>> days_in_hand_in_words(1), days_in_hand_in_words(0), days_in_hand_in_words(-4)
    ('1 working day in hand', 'due today', '4 working days late')
    """
    if days == 0:
        return "due today"
    count = f"{abs(days)} working day{'' if abs(days) == 1 else 's'}"
    return f"{count} in hand" if days > 0 else f"{count} late"


def _counted_back(
    need_by: date, term: LeadTerm, cushion_workdays: int, firm: WorkCalendar, supplier: WorkCalendar
) -> date:
    """The first count, each part strictly before the next; late where the supplier is shut on one of its days."""
    ship = supplier.back(dock_by(need_by, cushion_workdays, firm), term.transit_workdays)
    return combine(firm, supplier).on_or_before(_production_back(ship, term, supplier))


def _last_counted(
    need_by: date, term: LeadTerm, cushion_workdays: int, firm: WorkCalendar, supplier: WorkCalendar
) -> date:
    """The pass forward undone: the last day of the supplier that an order in time can count from.

    Counting back from an open day is the exact inverse of counting forward, so each part begins on one.
    """
    dock = firm.back(firm.on_or_before(need_by), cushion_workdays)
    ship = supplier.back(supplier.on_or_before(dock), term.transit_workdays)
    return _production_back(ship, term, supplier)


def _production_back(ship: date, term: LeadTerm, supplier: WorkCalendar) -> date:
    if term.production_counts == "workdays":
        return supplier.back(ship, term.production_days)
    return supplier.on_or_before(_shifted(ship, -term.production_days))


def _production_forward(counted_from: date, term: LeadTerm, supplier: WorkCalendar) -> date:
    if term.production_counts == "workdays":
        return supplier.forward(counted_from, term.production_days)
    return supplier.on_or_after(_shifted(counted_from, term.production_days))


def _shifted(day: date, days: int) -> date:
    try:
        return day + timedelta(days=days)
    except OverflowError:
        raise CalendarError("the count runs past the years 1 to 9999.") from None
