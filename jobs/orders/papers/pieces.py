"""Pieces of a run one by one, as finished text."""

from dataclasses import dataclass

from quoting.platform.papers.parts import FinishedText


@dataclass(frozen=True)
class PieceBend(FinishedText):
    """bent: concave, convex or straight. along: over which length, where a piece bends in more ways than one."""

    bent: str
    radius: str
    along: str = ""


@dataclass(frozen=True)
class PieceRow(FinishedText):
    """number: of its line. bends: from its left end on for whoever faces it. place: where on the wall it goes."""

    number: str
    length: str
    bends: tuple[PieceBend, ...]
    place: str
    came: str = ""
