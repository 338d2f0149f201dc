"""Figures found on site put into a stored wall, and kept as confirmed by whoever found them."""

import re
from collections.abc import Mapping
from dataclasses import replace

from catalog.core.ground.units import BareLengthUnit
from catalog.services.book import book_of
from jobs.core.measure.curve import curve_of
from jobs.core.measure.dimension_holds import every_dimension
from jobs.core.measure.dimension_status import DimensionStatus, MarkedDimension
from jobs.core.measure.wall_document import write_wall
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.wall_work_up import survey_of
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.models import Wall
from jobs.walls.services.compute_limits import check_size
from jobs.walls.services.wall_error_paths import errors_with_paths
from jobs.walls.services.walls import refuse_wrong_walls, store_wall, wall_from_document
from quoting.platform.models.columns import quantized
from quoting.platform.people.signatures import Signature

Found = Mapping[str, str]
"""What was found, as typed, by its place in the wall's document: "pieces[0].rise", or "pieces[0].points[1][0]"."""


def wall_as_found(stored: WallSpec, result: Found, bare_unit: BareLengthUnit, signature: Signature) -> WallSpec:
    """The stored wall with the figures found on site, each dimension of them confirmed. Raises DocumentError."""
    document = write_wall(stored)
    for place, typed in result.items():
        *steps, leaf = (int(step) if step.isdigit() else step for step in re.findall(r"[^.\[\]]+", place))
        part = document
        for step in steps:
            part = part[step]
        part[leaf] = typed
    # Stored lengths are written with their unit, so that the bare one counts for what was typed alone.
    spec = wall_from_document(document, bare_unit)
    confirmed = {dimension_of(place) for place in result}
    others = tuple(dimension for dimension in spec.taken.marks if dimension.dimension not in confirmed)
    mark = DimensionStatus("confirmed", signature.by, signature.on)
    ours = tuple(
        MarkedDimension(dimension.place, mark) for dimension in every_dimension(spec) if dimension.place in confirmed
    )
    return replace(spec, taken=replace(spec.taken, marks=(*others, *ours)))


def dimension_of(place: str) -> str:
    """The dimension an entry is of: points are one dimension of six figures."""
    head, points, _ = place.partition(".points")
    return head + points


def keep_confirmed(
    wall: Wall, result: Found, *, seen_version: int, bare_unit: BareLengthUnit, signature: Signature
) -> bool:
    """Store what was found; False when just that is kept already, so that sending it twice does no harm.

    Raises DocumentError or SurveyError for figures that cannot stand, ChangedMeanwhile for a wall changed since.
    """
    spec = wall_as_found(wall.to_core(), result, bare_unit, signature)
    if _is_kept(wall.to_core(), spec, result):
        return False
    refuse_impossible(spec)
    try:
        store_wall(wall.job, spec, seen_version=seen_version, signature=signature)
    except ChangedMeanwhile:
        present = Wall.objects.filter(pk=wall.pk).first()
        if present is not None and _is_kept(present.to_core(), spec, result):
            return False
        raise
    return True


def _is_kept(stored: WallSpec, wanted: WallSpec, result: Found) -> bool:
    places = {dimension_of(place) for place in result}
    there, request = ({entry for entry in _said(spec) if entry[0] in places} for spec in (stored, wanted))
    return there == request


def _said(spec: WallSpec) -> set[tuple[object, ...]]:
    marks = {mark.dimension: mark.mark for mark in spec.taken.marks}
    return {
        (dimension.place, tuple(quantized(figure) for figure in dimension.figures), marks.get(dimension.place))
        for dimension in every_dimension(spec)
    }


def refuse_impossible(spec: WallSpec) -> None:
    refuse_wrong_walls([("", spec)])
    with errors_with_paths([spec], ""):
        check_size([spec], "")
        curve_of(survey_of(spec, book_of().materials))
