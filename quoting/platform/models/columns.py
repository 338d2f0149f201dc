"""How figures are kept: lengths in mm and other figures to a millionth, money in cents."""

from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django.db import models

MILLIONTH = Decimal("0.000001")
BILLIONTH = Decimal("0.000000001")


def length_column(**options: Any) -> models.DecimalField:
    return models.DecimalField(max_digits=14, decimal_places=6, **options)


figure_column = length_column


def money_column(**options: Any) -> models.DecimalField:
    return models.DecimalField(max_digits=12, decimal_places=2, **options)


def quantized(value: float | Decimal, unit: Decimal = MILLIONTH) -> Decimal:
    """The figure as its column keeps it, so that what is compared is what will be read back."""
    exact = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    return exact.quantize(unit, rounding=ROUND_HALF_UP) + 0


def quantized_or_none(value: float | Decimal | None) -> Decimal | None:
    return None if value is None else quantized(value)


def normalized(value: Decimal) -> Decimal:
    """2.000000 as 2: columns keep a fixed number of places, documents and explanations say what was meant."""
    return Decimal(format(value.normalize(), "f"))
