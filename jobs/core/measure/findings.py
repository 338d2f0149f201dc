"""What a person must know about a figure: a gap to fill, a decision to take, a caution, a note."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Annotated, Any, Literal

from catalog.core.ground.declared import As, Day, Part, Real, Text, Writing
from catalog.core.ground.document_reader import Reader
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


_QUANTITY = Real("0", "10000000")


class IsoDay(Day):
    """A day held as text."""

    def read(self, reader: Reader, name: str) -> Any:
        return super().read(reader, name).isoformat()

    def write(self, value: Any, how: Writing) -> Any:
        return value


@dataclass(frozen=True)
class Override:
    """A named person's decision that stands beside a computed answer.

    original: to show drift; for a check the radius compared (mm), so that it holds for no tighter one; None in older
    decisions about a check. brought_in: how it came here, of a decision that came with a job file.
    """

    key: Annotated[str, Text(200), "Key of the check, finding or line it is about."]
    reason: Annotated[str, "Why."]
    by: Annotated[str, Text(200), "Who decided."]
    on: Annotated[str, IsoDay(), "When."]
    value: Annotated[float | None, _QUANTITY, "The quantity set instead, in the line's unit; null for a check."] = None
    original: Annotated[
        float | None,
        _QUANTITY,
        "What was computed when it was set; for a check the figure the decision is taken for.",
    ] = None
    brought_in: Annotated[BroughtIn | None, As(aside=True)] = None

    def __post_init__(self) -> None:
        for field, text in (("reason", self.reason), ("by", self.by)):
            if not text.strip():
                raise ValueError(f"an override of {self.key} must state its {field!r}")


ShownFinding = Annotated[Finding, Part("Finding", asdict)]
ShownOverride = Annotated[Override, Part("Override", asdict)]
"""As answers show them: whole."""
