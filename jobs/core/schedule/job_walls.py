"""The walls of a job, read from its document."""

from __future__ import annotations

from collections import Counter

from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from jobs.core.measure.wall_document import read_wall
from jobs.core.measure.wall_spec import WallSpec

MAX_WALLS = 500
MAX_FITS = 10


def read_walls(reader: Reader) -> tuple[WallSpec, ...]:
    """The list `walls`.

    reader: the whole document. Returns the walls. Raises DocumentError with every complaint.

    >>> read_walls(Reader({}))
    ()
    """
    _refuse_many_fits(reader)
    walls = reader.items("walls", read_wall, most=MAX_WALLS)
    doubled = [key for key, count in Counter(wall.key for wall in walls).items() if count > 1]
    if doubled:
        raise DocumentError(DocumentProblem(reader.where("walls"), f'"{key}" is given twice') for key in doubled)
    _refuse_shared_names(reader, walls)
    return walls


def _refuse_many_fits(reader: Reader) -> None:
    """Fitting pieces to offsets is a search that takes a while; a document may ask for a few, not for hundreds."""
    given = [entry for entry in reader.values("walls", MAX_WALLS) if isinstance(entry, dict)]
    unfitted = sum(1 for entry in given if entry.get("offsets") and not entry.get("pieces"))
    if unfitted > MAX_FITS:
        raise reader.error(
            "walls",
            f"{unfitted} walls give offsets without pieces; at most {MAX_FITS} are fitted at a time: give the "
            "others' pieces, or import them later",
        )


def _refuse_shared_names(reader: Reader, walls: tuple[WallSpec, ...]) -> None:
    """Costs and the client's lines are of a wall by its name."""
    first: dict[str, tuple[int, WallSpec]] = {}
    complaints = []
    for index, wall in enumerate(walls):
        at, other = first.setdefault(wall.name, (index, wall))
        if at != index:
            path = reader.where(f"walls[{index}].name")
            complaints.append(
                DocumentProblem(path, shared_name(wall.name, f'"{other.key}" ({reader.where(f"walls[{at}]")})'))
            )
    if complaints:
        raise DocumentError(complaints)


def shared_name(name: str, other: str) -> str:
    """Why a wall cannot be called so.

    name: what two walls of a job are called. other: the wall that has the name already, in words. Returns the reason.
    Source: own rule; costs and the client's lines are of a wall by its name.

    >>> shared_name("Screen", '"screen-1"')
    '"Screen" is the name of the wall "screen-1" too; name each wall of a job differently'
    """
    return f'"{name}" is the name of the wall {other} too; name each wall of a job differently'
