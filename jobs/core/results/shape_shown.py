"""The shape of a wall as answers show it: its ends, arches and casings."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any

from catalog.core.ground.declared import As, Of, View
from jobs.core.framing.arch import Casing
from jobs.core.measure.curve import Face
from jobs.core.measure.wall_spec import End


class EndsShown(View):
    """How the wall ends; a closed one has no ends."""

    start: End
    end: End
    studs: int


class ArchShown(View):
    """An arched opening. The soffit is the strip that lines the arch."""

    name: Annotated[str, As(name="opening")]
    span_mm: Annotated[float, Of("head.span_mm")]
    rise_mm: Annotated[float, Of("head.rise_mm")]
    spring_mm: Annotated[float, Of("head.spring_mm")]
    radius_mm: Annotated[float, Of("head.radius_mm")]
    sweep_rad: Annotated[float, Of("head.sweep_rad")]
    soffit_mm: Annotated[float, Of("head.soffit_mm")]
    soffit_depth_mm: float


def casings_of(wall: Any) -> Iterable[Any]:
    return ((cased, face, made) for cased in wall.cased for face, made in cased.made)


class CasingShown(View):
    """Casing round an opening on one face. Legs are from the floor; radii are 0 round a level head."""

    opening: Annotated[str, Of(lambda casing: casing[0].name)]
    face: Annotated[Face, Of(lambda casing: casing[1])]
    legs: Annotated[str, Of(lambda casing: casing[0].chosen.legs)]
    head: Annotated[str, Of(lambda casing: casing[0].chosen.head or casing[0].chosen.legs)]
    made: Annotated[Casing, As(spread=True), Of(lambda casing: casing[2])]
