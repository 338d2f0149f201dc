"""An exact share of a whole, as two whole numbers: 0.4 is 400000 of 1000000, a third is 1 of 3."""

from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.db import models
from django.db.models import F, Q

from quoting.platform.models.columns import normalized

# The parts of a share that was given as a decimal; any other number of parts is a fraction's.
DECIMAL_PARTS = 1_000_000
MAX_PARTS = 1_000_000_000_000


class ShareTooFine(ValueError):
    def __init__(self, share: Decimal | Fraction) -> None:
        super().__init__(f"{share} is too fine a share; give at most six decimals, or a fraction such as 1/3")


def count_column(**options: Any) -> models.BigIntegerField:
    return models.BigIntegerField(**options)


def split_share(share: Decimal | Fraction) -> tuple[int, int]:
    if isinstance(share, Fraction):
        if share.denominator > MAX_PARTS:
            raise ShareTooFine(share)
        return share.numerator, share.denominator
    parts = share * DECIMAL_PARTS
    if parts != parts.to_integral_value():
        raise ShareTooFine(share)
    return int(parts), DECIMAL_PARTS


def join_share(count: int, parts: int) -> Decimal | Fraction:
    if parts == DECIMAL_PARTS:
        return normalized(Decimal(count) / DECIMAL_PARTS)
    return Fraction(count, parts)


def share_in_bounds(table: str, count: str, parts: str, *, least: int = 1) -> models.CheckConstraint:
    return models.CheckConstraint(
        condition=Q(
            **{
                f"{count}__gte": least,
                f"{count}__lte": F(parts),
                f"{parts}__gte": 1,
                f"{parts}__lte": MAX_PARTS,
            }
        ),
        name=f"{table}_{count}_in_bounds",
    )
