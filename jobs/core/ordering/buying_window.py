"""When an item may be ordered, and how far ahead of their own days others are bought with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.core.ground.day_words import day_words
from catalog.core.ground.refusal import InvalidValue
from catalog.core.ground.workdays import WorkCalendar


class BundlingError(InvalidValue):
    """Items that cannot be put on orders; the message names the item and what would be right."""


@dataclass(frozen=True)
class OrderWindow:
    """One item with the days on which it may be ordered.

    Args:
        key: stable, once in a call. earliest: the first day it is safe. latest: its order-by day; never before the
            earliest. amount: what it costs, zero or more, None where no price is known. name: as people call it.

    Raises:
        BundlingError: the days are out of order, or the amount is no amount.

    Source: trade rules on dates.

    >>> OrderWindow("J-1/BASE", date(2027, 3, 1), date(2027, 3, 12)).latest
    datetime.date(2027, 3, 12)
    """

    key: str
    earliest: date
    latest: date
    amount: Decimal | None = None
    name: str = ""

    def __post_init__(self) -> None:
        if self.latest < self.earliest:
            raise BundlingError(
                f"{self.called}: it must be ordered by {day_words(self.latest)}, before it is safe on "
                f"{day_words(self.earliest)}; decide which of the two gives way"
            )
        if self.amount is not None and not (self.amount.is_finite() and self.amount >= 0):
            raise BundlingError(f"{self.called}: an amount is zero or more, not {self.amount}")

    @property
    def called(self) -> str:
        """Its name, or its key where it has none."""
        return self.name or self.key


@dataclass(frozen=True)
class BuyingWindow:
    """How far ahead goods are bought with others: so many working days of the firm from the day of the order.

    workdays: zero or more; None where the firm did not state it, and then nothing bounds it.
    """

    firm: WorkCalendar
    workdays: int | None

    def reaches(self, day: date, latest: date) -> bool:
        """Whether an item to be ordered by `latest` may go on an order of `day`.

        Raises:
            CalendarError: the firm never works again.

        Source: own rule.

        >>> three_weeks = BuyingWindow(WorkCalendar("firm"), 15)
        >>> [three_weeks.reaches(date(2027, 3, 1), date(2027, 3, day)) for day in (22, 23)]
        [True, False]
        """
        return self.workdays is None or latest <= max(day, self.firm.forward(day, self.workdays))


def window_of(
    key: str, safe_from: date, order_by: date, today: date, amount: Decimal | None = None, name: str = ""
) -> OrderWindow:
    """The days on which an item may still be ordered.

    Args:
        key: of the item. safe_from: the first day it is safe. order_by: its order-by day. today: the firm's day.
            amount: what it costs, None where not known. name: as people call it.

    Returns:
        From the day it is safe, today at the earliest, to its order-by day. What is late is ordered at once, today or
        as soon as it is safe: waiting for others would only make it later.

    Raises:
        BundlingError: the amount is no amount.

    Source: own rule.

    >>> late = window_of("J-1/BASE", date(2027, 3, 1), date(2027, 3, 12), date(2027, 3, 15))
    >>> late.earliest == late.latest == date(2027, 3, 15)
    True
    """
    earliest = max(safe_from, today)
    return OrderWindow(key, earliest, max(earliest, order_by), amount, name)
