"""The month a row of money or hours counts in: its own, or the first open one if its own is closed.

Call it in the transaction that writes the row: from then on until the end of it no month closes.
"""

from collections.abc import Callable
from datetime import date

from catalog.core.ground.day_words import month_words
from catalog.core.ground.refusal import Refused

_readers: list[Callable[[], date | None]] = []


class MonthClosed(Refused):
    def __init__(self, month: date, first_open: date) -> None:
        super().__init__(
            f"{month_words(month)} is closed. Enter what is right as a new row: it counts in {month_words(first_open)}."
        )


def read_first_open_month_with(reader: Callable[[], date | None]) -> None:
    """reader: holds closing off until the transaction ends, and gives the first open month; None if none is closed."""
    _readers.append(reader)


def month_to_post(day: date) -> date:
    """The first day of the month in which what happened on `day` counts."""
    own, first_open = day.replace(day=1), _first_open()
    return own if first_open is None else max(own, first_open)


def hold_open(posted_month: date) -> None:
    """Before a row that counts in the month is changed or voided: refused once the month is closed."""
    first_open = _first_open()
    if first_open is not None and posted_month < first_open:
        raise MonthClosed(posted_month, first_open)


def _first_open() -> date | None:
    return _readers[-1]() if _readers else None
