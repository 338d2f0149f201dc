"""Pieces of a run one by one, as finished text."""

from dataclasses import dataclass

from quoting.platform.papers.parts import need_text


@dataclass(frozen=True)
class PieceBend:
    """bent: concave, convex or straight. along: over which length, where a piece bends in more ways than one."""

    bent: str
    radius: str
    along: str = ""

    def __post_init__(self) -> None:
        need_text(self, "bent", "radius")


@dataclass(frozen=True)
class PieceRow:
    """number: of its line. bends: from its left end on for whoever faces it. place: where on the wall it goes."""

    number: str
    length: str
    bends: tuple[PieceBend, ...]
    place: str
    came: str = ""

    def __post_init__(self) -> None:
        need_text(self, "number", "length", "place")
