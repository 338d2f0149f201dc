"""The month a row of money or hours counts in: its own, or the first open one if its own is closed.

Call it in the transaction that writes the row: from then on until the end of it no month closes.
"""

from collections.abc import Callable
from datetime import date

_readers: list[Callable[[], date | None]] = []


def read_first_open_month_with(reader: Callable[[], date | None]) -> None:
    """reader: holds closing off until the transaction ends, and gives the first open month; None if none is closed."""
    _readers.append(reader)


def month_to_post(day: date) -> date:
    """The first day of the month in which what happened on `day` counts."""
    own = day.replace(day=1)
    first_open = _readers[-1]() if _readers else None
    return own if first_open is None else max(own, first_open)
