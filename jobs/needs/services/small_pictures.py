"""Drawings of a wall that are kept with what was worked out of it, each by its name.

A picture is drawn once with each work-up and read by every page: add it to PICTURES.
"""

from collections.abc import Callable, Mapping

from catalog.core.materials.catalog_data import Catalog
from catalog.drawings.lettering import PHONE_MM, PX_A_MM
from catalog.drawings.svg import DrawingInputError
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.plan.plan_lean import plan_lean_svg
from jobs.drawings.standing import standing_svg, thumbnail_svg
from jobs.drawings.worked_up import standing_wall

SmallPicture = Callable[[WallWorkUp, Catalog], str]
# The column a job's page shows its walls in, 560 px.
COLUMN_MM, COLUMN_HEIGHT_MM, PHONE_HEIGHT_MM = 560 / PX_A_MM, 62.0, 46.0
# The column of a client's page, and as high as leaves its sums in sight.
CLIENT_MM, CLIENT_HEIGHT_MM = 608 / PX_A_MM, 78.0


def thumbnail(wall: WallWorkUp, book: Catalog) -> str:
    return thumbnail_svg(standing_wall(wall, book), title=_title(wall)).svg


def standing(wall: WallWorkUp, book: Catalog) -> str:
    return _standing(wall, book, COLUMN_MM, COLUMN_HEIGHT_MM)


def standing_narrow(wall: WallWorkUp, book: Catalog) -> str:
    return _standing(wall, book, PHONE_MM, PHONE_HEIGHT_MM)


def _standing(wall: WallWorkUp, book: Catalog, width_mm: float, max_height_mm: float) -> str:
    """A wall that cannot stand is shown in plan."""
    paper = {"width_mm": width_mm, "max_height_mm": max_height_mm, "system": book.firm.display_units}
    try:
        return standing_svg(standing_wall(wall, book), title=_title(wall), **paper).svg
    except DrawingInputError:
        return plan_lean_svg(wall.curve, title=f"{wall.spec.name}: plan", **paper).svg


def _title(wall: WallWorkUp) -> str:
    return f"{wall.spec.name}, standing"


PICTURES: Mapping[str, SmallPicture] = {
    "thumbnail": thumbnail,
    "standing": standing,
    "standing_narrow": standing_narrow,
}


def pictures_for_client(wall: WallWorkUp, book: Catalog) -> dict[str, str]:
    """By the names of PICTURES."""
    large = _standing(wall, book, CLIENT_MM, CLIENT_HEIGHT_MM)
    return {"standing": large, "standing_narrow": standing_narrow(wall, book)}


def pictures_of(wall: WallWorkUp, book: Catalog) -> dict[str, str]:
    return {name: draw(wall, book) for name, draw in PICTURES.items()}
