"""CHECK constraints. Both sides of a number are always given: that is what keeps NaN and Infinity out on
PostgreSQL, where NaN is greater than every number, and text out on SQLite, where it is as well."""

from collections.abc import Iterable
from decimal import Decimal

from django.db import models
from django.db.models import Q

MAX_MM = 10_000_000
MAX_MONEY = Decimal("9999999999.99")
MAX_POSITION = 5_000
SHA256 = r"^[0-9a-f]{64}$"


def between(table: str, column: str, low: int | Decimal, high: int | Decimal) -> models.CheckConstraint:
    return models.CheckConstraint(
        condition=Q(**{f"{column}__gte": low, f"{column}__lte": high}), name=f"{table}_{column}_in_bounds"
    )


def over_zero(table: str, column: str, high: int | Decimal) -> models.CheckConstraint:
    return models.CheckConstraint(
        condition=Q(**{f"{column}__gt": 0, f"{column}__lte": high}), name=f"{table}_{column}_in_bounds"
    )


def one_of(table: str, column: str, allowed: Iterable[str | int]) -> models.CheckConstraint:
    return models.CheckConstraint(condition=Q(**{f"{column}__in": list(allowed)}), name=f"{table}_{column}_is_known")


def yes_or_no(table: str, column: str) -> models.CheckConstraint:
    # SQLite keeps a yes or no as a number, and would take any. "In" is not simplified away, as "or" is.
    return models.CheckConstraint(
        condition=Q(**{f"{column}__in": [True, False]}), name=f"{table}_{column}_is_yes_or_no"
    )


def stated(table: str, *columns: str) -> models.CheckConstraint:
    empty = Q()
    for column in columns:
        empty |= Q(**{column: ""})
    return models.CheckConstraint(condition=~empty, name=f"{table}_{'_'.join(columns)}_stated")
