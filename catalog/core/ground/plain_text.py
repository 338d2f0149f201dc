"""Figures as text for files and the API: a decimal point, no grouping, no exponent."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal


def plain(value: Decimal | None) -> str | None:
    """A figure as text without an exponent or needless zeros.

    >>> plain(Decimal("12.500"))
    '12.5'
    """
    if value is None:
        return None
    text = format(value, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def half_up(value: Decimal, places: int) -> Decimal:
    """A figure rounded for the eye: to so many places, halves up.

    >>> half_up(Decimal("13.125"), 2)
    Decimal('13.13')
    """
    return value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)


def money(value: Decimal | None) -> str | None:
    """Money as text with two places, or None.

    >>> money(Decimal("15641.39"))
    '15641.39'
    """
    return None if value is None else format(value, ".2f")
