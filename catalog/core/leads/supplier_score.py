"""A supplier's score: what came, how it kept to what was promised, and what came damaged or wrong."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from statistics import median

from catalog.core.ground.workdays import WorkCalendar


@dataclass(frozen=True)
class ScoredReceipt:
    """One receipt of one order line, as far as it tells of the supplier.

    received_on: the day it came. promised_on: the promise as it stood then, None when nothing was promised.
    damaged, wrong: whether any of it was.
    """

    received_on: date
    promised_on: date | None = None
    damaged: bool = False
    wrong: bool = False


@dataclass(frozen=True)
class SupplierScore:
    """Counts over receipts; every one of them is one receipt, so that they add up.

    receipts: all that came. promised: those with a promised day. on_the_day, early, late: how those came.
    median_early_workdays, median_late_workdays: how many working days, of those early and of those late; None while
    none was. damaged, wrong: receipts of which any was.
    """

    receipts: int
    promised: int
    on_the_day: int
    early: int
    late: int
    median_early_workdays: float | None
    median_late_workdays: float | None
    damaged: int
    wrong: int

    @property
    def kept(self) -> int:
        """Receipts that came on the promised day or before."""
        return self.on_the_day + self.early


def supplier_score(receipts: Iterable[ScoredReceipt], calendar: WorkCalendar) -> SupplierScore:
    """Add up a supplier's receipts.

    Args:
        receipts: what came of its orders, in any order.
        calendar: the supplier's working days, in which early and late are counted. What comes after the promised day
            is late though no working day lies between, and then counts as a day.

    Returns:
        The score.

    Raises:
        CalendarError: not days.

    Source: own rule.

    >>> friday, monday = date(2027, 1, 8), date(2027, 1, 11)
    >>> score = supplier_score([ScoredReceipt(monday, friday), ScoredReceipt(friday, friday)], WorkCalendar("mill"))
    >>> score.kept, score.late, score.median_late_workdays
    (1, 1, 1)
    """
    every = list(receipts)
    apart = [
        _workdays_late(receipt.received_on, receipt.promised_on, calendar)
        for receipt in every
        if receipt.promised_on is not None
    ]
    early, late = [-days for days in apart if days < 0], [days for days in apart if days > 0]
    return SupplierScore(
        len(every),
        len(apart),
        apart.count(0),
        len(early),
        len(late),
        median(early) if early else None,
        median(late) if late else None,
        sum(receipt.damaged for receipt in every),
        sum(receipt.wrong for receipt in every),
    )


def _workdays_late(received_on: date, promised_on: date, calendar: WorkCalendar) -> int:
    counted = calendar.workdays_between(promised_on, received_on)
    if received_on == promised_on:
        return 0
    return max(counted, 1) if received_on > promised_on else min(counted, -1)
