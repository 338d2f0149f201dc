"""Small drawings of a wall that are kept with what was worked out of it, each by its name.

A picture is drawn once with each work-up and read by every page: add it to PICTURES.
"""

from collections.abc import Callable, Mapping

from catalog.core.ground.units import System
from catalog.drawings.svg import DrawingInputError
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.plan.plan import plan_svg
from jobs.drawings.standing import StandingWall, standing_svg, thumbnail_svg

SmallPicture = Callable[[WallWorkUp, System], str]


def small_plan(wall: WallWorkUp, system: System) -> str:
    title = f"{wall.spec.name}: plan"
    return plan_svg(wall.curve, title=title, system=system, width_mm=120.0, max_height_mm=90.0).svg


def standing(wall: WallWorkUp, system: System) -> str:
    title = f"{wall.spec.name}, standing"
    return standing_svg(StandingWall(wall.curve), title=title, system=system, max_height_mm=62.0).svg


def thumbnail(wall: WallWorkUp, system: System) -> str:
    return thumbnail_svg(StandingWall(wall.curve), title=wall.spec.name).svg


PICTURES: Mapping[str, SmallPicture] = {"plan": small_plan, "standing": standing, "thumbnail": thumbnail}


def pictures_of(wall: WallWorkUp, system: System) -> dict[str, str]:
    """Without those that do not fit their room."""
    found = {}
    for name, draw in PICTURES.items():
        try:
            found[name] = draw(wall, system)
        except DrawingInputError:
            continue
    return found
