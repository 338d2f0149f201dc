"""The reason somebody gives for what is done under a name."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Reason:
    """Why it is done."""

    reason: str
