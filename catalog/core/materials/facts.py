"""A figure that somebody stands for: a number with the name of its source and how sure it is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from catalog.core.ground.refusal import InvalidValue

Sureness = Literal["published", "practice", "memory", "maker", "firm"]
SURENESS: tuple[Sureness, ...] = ("published", "practice", "memory", "maker", "firm")


class SpecError(InvalidValue):
    """A figure or name in a specification that cannot be right; the message says which and why."""


@dataclass(frozen=True)
class Fact:
    """One sourced figure.

    value: finite number in the unit of the property or standard it states. source: who says so, in words.
    sure: how far to trust it. stated_on: the day it was written down.
    """

    value: Decimal
    source: str
    sure: Sureness
    stated_on: date | None = None

    def __post_init__(self) -> None:
        if not self.value.is_finite():
            raise SpecError(f"a figure must be a finite number, not {self.value}")
        if not self.source.strip():
            raise SpecError("a figure must name its source")
        if self.sure not in SURENESS:
            raise SpecError(f"{self.sure!r} is not one of {', '.join(SURENESS)}")

    @property
    def number(self) -> float:
        return float(self.value)
