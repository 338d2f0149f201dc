"""How much is worked up while somebody waits, at a page or a call: many times any real job, and less than a minute's
work."""

from collections.abc import Iterable

from jobs.core.measure.survey import StraightPiece, TemplatePiece
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.services.wall_error_paths import ImpossibleWall

MAX_LENGTH_M = 200
MAX_STUDS = 2_000


class TooMuchAtOnce(ImpossibleWall):
    pass


def check_size(walls: Iterable[WallSpec], field: str = "walls") -> None:
    """field: the path of the walls, or of the one wall, in the document they stand in."""
    walls = list(walls)
    named = "The wall is" if len(walls) == 1 else "The walls together are"
    lengths_mm = [sum(_length_mm(piece) for piece in wall.pieces) for wall in walls]
    if sum(lengths_mm) > MAX_LENGTH_M * 1000:
        raise TooMuchAtOnce(
            field,
            f"{named} {sum(lengths_mm) / 1000:,.0f} m long, and at most {MAX_LENGTH_M} m are worked up at once; "
            "check the units, or split the job",
        )
    studs = sum(
        length_mm / wall.stud_spacing_mm
        for wall, length_mm in zip(walls, lengths_mm, strict=True)
        if wall.stud_spacing_mm
    )
    if studs > MAX_STUDS:
        raise TooMuchAtOnce(
            field,
            f"The stud spacing asked for makes about {studs:,.0f} studs, and at most {MAX_STUDS:,} are worked up at "
            "once; check the units of the spacing",
        )


def _length_mm(piece: object) -> float:
    if isinstance(piece, StraightPiece | TemplatePiece):
        return piece.length_mm
    solved = piece.given.solve()  # type: ignore[attr-defined]
    return solved.radius_mm * solved.sweep_rad
