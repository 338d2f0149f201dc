"""What a person must know about a figure: a gap to fill, a decision to take, a caution, a note."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Annotated, Literal

from catalog.core.ground.declared import Part
from jobs.core.measure.brought_in import BroughtIn

Weight = Literal["gap", "decide", "caution", "note"]
WEIGHTS: tuple[Weight, ...] = ("gap", "decide", "caution", "note")


@dataclass(frozen=True)
class Finding:
    """One sentence somebody must read, with a stable key.

    key: names the matter within a job, e.g. "reception/left/layer-1/bend". weight: "gap" is something missing
    without which a figure cannot be given; "decide" needs a named person's decision (an override or a change);
    "caution" is a risk to know; "note" is information. source: where the rule comes from. compared: the figure
    a decision about it is taken for, kept as the decision's `original` (a radius in mm, or what the finding says
    in its place); None when there is no such figure.
    """

    key: str
    weight: Weight
    sentence: str
    source: str = ""
    compared: float | None = None


@dataclass(frozen=True)
class Override:
    """A person's decision that stands beside the computed answer and never hides it.

    key: the key of the finding or takeoff line overridden. reason, by: in words, not empty. on: ISO day.
    value: the quantity set instead (unit of the line) for a line; None for a check.
    original: the computed quantity when it was set, to show drift; for a check the radius compared (mm) when the
    decision was taken, so that it holds for no tighter one; None in older decisions about a check.
    brought_in: how it came here, of a decision that came with a job file.
    """

    key: str
    reason: str
    by: str
    on: str
    value: float | None = None
    original: float | None = None
    brought_in: BroughtIn | None = None

    def __post_init__(self) -> None:
        for field, text in (("reason", self.reason), ("by", self.by)):
            if not text.strip():
                raise ValueError(f"an override of {self.key} must state its {field!r}")


ShownFinding = Annotated[Finding, Part("Finding", asdict)]
ShownOverride = Annotated[Override, Part("Override", asdict)]
"""As answers show them: whole."""
