"""Whose name stands under a mark: that of whoever says how a dimension is known, on the day it is said."""

from dataclasses import dataclass, replace
from typing import Any

from jobs.core.measure.dimension_holds import Dimension, every_dimension
from jobs.core.measure.dimension_status import MarkedDimension
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.models import Wall
from quoting.platform.models.columns import quantized
from quoting.platform.people.signatures import Signature


@dataclass(frozen=True)
class Marked:
    """The marks of a wall as it is stored, each with what it says of which figures."""

    standing: frozenset[tuple[Any, ...]]


def marked_on(wall: Wall) -> Marked:
    if not wall.pk:
        return Marked(frozenset())
    spec = wall.to_core()
    dimensions = {one.place: one for one in every_dimension(spec)}
    wall.forget_parts()
    return Marked(
        frozenset(_said(one, dimensions[one.dimension]) for one in spec.taken.marks if one.dimension in dimensions)
    )


def with_marks_signed(spec: WallSpec, stored: Marked, signature: Signature | None) -> WallSpec:
    """The wall with its marks as they may be kept: one that stands already as it was signed, any other signed anew.

    A mark stands while its dimension keeps its figure, wherever in the wall that is now: pieces may change places.
    signature: None keeps the names that are given, for what comes in by nobody in particular.
    """
    if signature is None or not spec.taken.marks:
        return spec
    dimensions = {one.place: one for one in every_dimension(spec)}
    marks = tuple(
        one if _said(one, dimensions[one.dimension]) in stored.standing else _signed(one, signature)
        for one in spec.taken.marks
    )
    return replace(spec, taken=replace(spec.taken, marks=marks))


def _signed(marked: MarkedDimension, signature: Signature) -> MarkedDimension:
    return replace(marked, mark=replace(marked.mark, by=signature.by, on=signature.on))


def _said(marked: MarkedDimension, dimension: Dimension) -> tuple[Any, ...]:
    # The figures as their columns keep them, so that what was read out and sent back is the same.
    mark = marked.mark
    return dimension.leaf, tuple(quantized(figure) for figure in dimension.figures), mark.how, mark.by, mark.on
