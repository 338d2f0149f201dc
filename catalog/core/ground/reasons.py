"""The reason somebody gives for what is done under a name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from catalog.core.ground.declared import As, Text

MAX_WHY = 300


@dataclass(frozen=True)
class Reason:
    """Why it is done."""

    reason: str


@dataclass(frozen=True)
class WhyTakenBack:
    """Why what was entered is taken back."""

    reason: Annotated[str, Text(MAX_WHY), As(label="Why")]
