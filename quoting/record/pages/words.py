"""Standards as pages write them."""

from decimal import Decimal

from catalog.core.ground.plain_text import half_up, plain
from quoting.core.money.closed_jobs import WASTE
from quoting.record.models import LearntStandard


def figure(value: Decimal, *, is_waste: bool) -> str:
    """A waste as a percentage."""
    return f"{plain(half_up(value * 100, 2))} %" if is_waste else plain(half_up(value, 4)) or "0"


def words(value: Decimal, row: LearntStandard) -> str:
    """A value of the standard that was taken."""
    return figure(value, is_waste=row.standard.startswith(WASTE))


def rounded(value: Decimal) -> str:
    return f"{half_up(value, 1):,}"
