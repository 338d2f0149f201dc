"""How a dimension of a wall is known: measured, assumed or confirmed, by whom and when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal, get_args

from catalog.core.ground.declared import As, Text
from jobs.core.measure.brought_in import BroughtIn
from jobs.core.measure.survey import SurveyError

HowKnown = Literal["measured", "assumed", "confirmed", "fitted"]
HOW_KNOWN: tuple[HowKnown, ...] = get_args(HowKnown)


@dataclass(frozen=True)
class DimensionStatus:
    """How a dimension is known.

    Args:
        how: "measured" on the bare site, "assumed" from a drawing or a word, "confirmed" on the framed wall, "fitted"
            to offsets: worked out, and never read itself.
        by: who says so, not empty. on: the day. brought_in: how it came here, of a mark that came with a job file.

    Raises:
        SurveyError: an unknown word, or nobody named.

    >>> DimensionStatus("measured", "Ines", date(2026, 11, 2)).how
    'measured'
    """

    how: Annotated[
        HowKnown,
        "measured on the bare site, assumed from a drawing or a word, confirmed on the framed wall, or fitted: worked "
        "out from offsets.",
    ]
    by: Annotated[str, Text(200), "Who says so."]
    on: Annotated[date, "Since when."]
    brought_in: Annotated[BroughtIn | None, As(aside=True)] = None

    def __post_init__(self) -> None:
        if self.how not in HOW_KNOWN:
            raise SurveyError("how", f"a dimension is one of {', '.join(HOW_KNOWN)}; {self.how!r} was given")
        if not self.by.strip():
            raise SurveyError("by", "a mark must name who measured, assumed or confirmed the dimension")

    @property
    def words(self) -> str:
        """How it is known, for people.

        >>> DimensionStatus("fitted", "Ines", date(2026, 11, 2)).words
        'worked out from offsets'
        """
        return "worked out from offsets" if self.how == "fitted" else self.how


@dataclass(frozen=True)
class MarkedDimension:
    """How one dimension of the wall is known."""

    document_name = "mark"

    dimension: Annotated[str, Text(60), "Its place in the wall, such as pieces[0].rise, height or openings[0].width."]
    mark: Annotated[DimensionStatus, As(spread=True)]
