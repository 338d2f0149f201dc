"""Why a figure is what it is: the rule in words, what went into it and where the rule comes from."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Literal

from catalog.core.ground.declared import As, Document, Part

RULE_VERSION = "2026-11"
"""Version of the takeoff rules; printed with every explanation and frozen into an issued quote."""


@dataclass(frozen=True)
class Explanation:
    """How a figure was reached.

    Args:
        rule: the rule in a sentence, not empty.
        inputs: (label, value with its unit) in the order they are used, written as text already.
        source: who says so; empty when the rule is only arithmetic.

    Raises:
        ValueError: the rule is empty.

    >>> Explanation("height / spacing, rounded up, plus one", (("height", "96 in"),), "").inputs[0][1]
    '96 in'
    """

    rule: str
    inputs: tuple[tuple[str, str], ...]
    source: str

    def __post_init__(self) -> None:
        if not self.rule.strip():
            raise ValueError("an explanation must state its rule")


def why_document(why: Explanation) -> Document:
    """Why a figure is what it is, by which rules."""
    inputs = [{"label": label, "value": value} for label, value in why.inputs]
    return {"rule": why.rule, "inputs": inputs, "source": why.source, "rules": RULE_VERSION}


Why = Annotated[Explanation, Part("Why", why_document), As(name="why")]


@dataclass(frozen=True)
class Quantity:
    """A net quantity of something a wall needs, before waste and before rounding to packs.

    Args:
        key: stable within the job, such as "reception/left/layer-1/board_screw".
        label: what it is, in words.
        value: the quantity, finite and zero or more, in `unit`.
        unit: a key of `catalog.core.ground.units.UNITS`.
        explanation: how it was reached.
        material: code of the material it is a quantity of, or None when it is no catalog material (water).
        face: the face it belongs to, or None for the wall as a whole.
        pieces_mm: the lengths it is cut in, each > 0; empty where it is not cut from sticks.

    Raises:
        ValueError: the value is not a finite number of zero or more.

    >>> Quantity("w/tape", "Tape", 2.5, "m", Explanation("sum of joints", (), ""), "TAPE").unit
    'm'
    """

    key: str
    label: str
    value: float
    unit: str
    explanation: Explanation
    material: str | None = None
    face: Literal["left", "right"] | None = None
    pieces_mm: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        if not (math.isfinite(self.value) and self.value >= 0):
            raise ValueError(f"{self.key}: a quantity must be zero or more, not {self.value}")
