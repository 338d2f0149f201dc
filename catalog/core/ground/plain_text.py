"""Figures as text for files and the API: a decimal point, no grouping, no exponent."""

from __future__ import annotations

import re
import unicodedata
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


def key_of_name(name: str) -> str:
    """A key for what has only a name: its letters and figures, joined by hyphens.

    name: any text. Returns the key, "activity" for a name without either.
    Source: own rule.

    >>> key_of_name("Échafaudage, 2 lifts")
    'echafaudage-2-lifts'
    """
    text = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return "-".join(re.findall(r"[a-z0-9]+", text))[:60].strip("-") or "activity"
