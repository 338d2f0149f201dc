"""Whose name stands under a mark: that of whoever says how a dimension is known, on the day it is said."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from jobs.core.measure.brought_in import BroughtIn
from jobs.core.measure.dimension_holds import Dimension, every_dimension
from jobs.core.measure.dimension_status import DimensionStatus, MarkedDimension
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.models import Wall
from quoting.platform.models.columns import quantized
from quoting.platform.people.signatures import Signature


@dataclass(frozen=True)
class Marked:
    """The marks of a wall as it is stored, each with what it says of which figures."""

    standing: Mapping[tuple[Any, ...], DimensionStatus]


def marked_on(wall: Wall) -> Marked:
    if not wall.pk:
        return Marked({})
    spec = wall.to_core()
    wall.forget_parts()
    return marks_in(spec)


def marks_in(spec: WallSpec) -> Marked:
    dimensions = {dimension.place: dimension for dimension in every_dimension(spec)}
    known = [mark for mark in spec.taken.marks if mark.dimension in dimensions]
    return Marked({_said(dimension, dimensions[dimension.dimension]): dimension.mark for dimension in known})


def with_marks_signed(spec: WallSpec, stored: Marked, signature: Signature | None) -> WallSpec:
    """The wall with its marks as they may be kept: one that stands already as it was signed, any other signed anew.

    A mark stands while its dimension keeps its figure, wherever in the wall that is now: pieces may change places.
    signature: None keeps the names that are given, for what comes in by nobody in particular.
    """
    if signature is None or not spec.taken.marks:
        return spec
    return _with_marks(spec, stored, lambda marked: _signed(marked, signature))


def with_marks_that_came(spec: WallSpec, stored: Marked) -> WallSpec:
    """The wall with its marks as given, those that stand already with how they came here."""
    return _with_marks(spec, stored, lambda marked: marked) if spec.taken.marks else spec


def _with_marks(spec: WallSpec, stored: Marked, anew: Callable[[MarkedDimension], MarkedDimension]) -> WallSpec:
    dimensions = {dimension.place: dimension for dimension in every_dimension(spec)}
    marks = tuple(
        replace(mark, mark=known)
        if (known := stored.standing.get(_said(mark, dimensions[mark.dimension])))
        else anew(mark)
        for mark in spec.taken.marks
    )
    return replace(spec, taken=replace(spec.taken, marks=marks))


def _signed(marked: MarkedDimension, signature: Signature) -> MarkedDimension:
    if signature.brings_file:
        return replace(marked, mark=replace(marked.mark, brought_in=BroughtIn(signature.by, signature.on)))
    return replace(marked, mark=replace(marked.mark, by=signature.by, on=signature.on))


def _said(marked: MarkedDimension, dimension: Dimension) -> tuple[Any, ...]:
    # The figures as their columns keep them, so that what was read out and sent back is the same.
    mark = marked.mark
    return dimension.leaf, tuple(quantized(figure) for figure in dimension.figures), mark.how, mark.by, mark.on
