"""How much one call may work up while somebody waits: many times any real job, and less than a minute's work."""

from collections.abc import Iterable

from jobs.core.build import WallSpec
from jobs.core.survey import StraightPiece

MOST_LENGTH_M = 200
MOST_STUDS = 2_000


class TooMuchAtOnce(ValueError):
    pass


def refuse_too_much(walls: Iterable[WallSpec]) -> None:
    walls = list(walls)
    lengths_mm = [sum(_length_mm(piece) for piece in wall.pieces) for wall in walls]
    if sum(lengths_mm) > MOST_LENGTH_M * 1000:
        raise TooMuchAtOnce(
            f"The walls are {sum(lengths_mm) / 1000:,.0f} m long together; at most {MOST_LENGTH_M} m are worked up "
            "at once. Check the units, or split the job."
        )
    studs = sum(
        length_mm / wall.stud_spacing_mm
        for wall, length_mm in zip(walls, lengths_mm, strict=True)
        if wall.stud_spacing_mm
    )
    if studs > MOST_STUDS:
        raise TooMuchAtOnce(
            f"The stud spacing asked for makes about {studs:,.0f} studs; at most {MOST_STUDS:,} are worked up at "
            "once. Check the units of the spacing."
        )


def _length_mm(piece: object) -> float:
    if isinstance(piece, StraightPiece):
        return piece.length_mm
    solved = piece.given.solve()  # type: ignore[attr-defined]
    return solved.radius_mm * solved.sweep_rad
