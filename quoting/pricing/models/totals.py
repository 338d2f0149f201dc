"""Columns of price and tax together."""

from decimal import Decimal

from django.db import models
from django.db.models import F, Q

from quoting.platform.models.bounds import MAX_MONEY

MAX_TOTAL = 2 * MAX_MONEY
HALF_A_CENT = Decimal("0.005")


def total_column() -> models.DecimalField:
    return models.DecimalField(max_digits=14, decimal_places=2)


def total_is_price_and_tax(table: str) -> models.CheckConstraint:
    return models.CheckConstraint(
        # SQLite adds as floating point: nearer than half a cent is the same.
        condition=Q(total__gt=F("price") + F("tax") - HALF_A_CENT) & Q(total__lt=F("price") + F("tax") + HALF_A_CENT),
        name=f"{table}_total_is_price_and_tax",
    )
