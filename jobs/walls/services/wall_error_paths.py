"""Walls that cannot be worked up, told by their place in the document they stand in."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from jobs.core.measure.survey import SurveyError
from jobs.core.measure.wall_spec import WallSpec

IN_A_JOB = "walls[{}]"


class ImpossibleWall(SurveyError):
    """field: a path of the document, such as walls[0].openings[0].centre_at."""


@contextmanager
def errors_with_paths(walls: Sequence[WallSpec], place: str = IN_A_JOB) -> Iterator[None]:
    """The core names an entry by the key of its wall; whoever sent the document finds it by its path.

    place: where the walls stand, {} for the number of the wall; "" for the document of one wall by itself.
    """
    try:
        yield
    except ImpossibleWall:
        raise
    except SurveyError as error:
        raise ImpossibleWall(_path(error.field, [wall.key for wall in walls], place), error.reason) from error


def _path(field: str, keys: Sequence[str], place: str) -> str:
    key, _, entry = field.partition(".")
    if key not in keys:
        return field
    return f"{place.format(keys.index(key))}.{entry}".strip(".")
