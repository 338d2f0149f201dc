"""What drawings take of a wall that is worked up: its bands of trim and its cap, as far as the catalog gives them."""

from __future__ import annotations

from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.curve import FACES, Face
from jobs.core.measure.wall_spec import AT_THE_CEILING, ON_TOP, TrimRun
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.faces.face_view import TrimBand
from jobs.drawings.standing import Cap, StandingWall


def bands_of(work_up: WallWorkUp, face: Face, book: Catalog) -> tuple[TrimBand, ...]:
    """The trim of a face; a profile whose width the catalog does not give is left out."""
    bands = (band_of(run, book) for run in work_up.spec.trims if run.face == face)
    return tuple(band for band in bands if band is not None)


def band_of(run: TrimRun, book: Catalog) -> TrimBand | None:
    width = _figure(run, "width_mm", book)
    if width is None or run.position == ON_TOP:
        return None
    hangs = run.position in AT_THE_CEILING and run.foot_mm is None
    return TrimBand(run.name, width, None if hangs else run.foot_mm or 0.0)


def standing_wall(work_up: WallWorkUp, book: Catalog) -> StandingWall:
    return StandingWall(
        work_up.curve, (bands_of(work_up, FACES[0], book), bands_of(work_up, FACES[1], book)), _cap(work_up, book)
    )


def _cap(work_up: WallWorkUp, book: Catalog) -> Cap | None:
    for run in work_up.spec.trims if work_up.spec.is_half_wall else ():
        width, thickness = (_figure(run, name, book) for name in ("width_mm", "thickness_mm"))
        if run.position == ON_TOP and width is not None and thickness is not None:
            return Cap(width, thickness)
    return None


def _figure(run: TrimRun, name: str, book: Catalog) -> float | None:
    material = book.materials.get(run.material)
    fact = material.fact(name) if material else None
    return None if fact is None else fact.number
