"""A face rolled out: places along the wall become places on the paper."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from catalog.drawings.svg import DrawingInputError, Point
from jobs.core.measure.curve import Curve, Face, OpeningOnCurve
from jobs.drawings.plan.plan_names import FACE_LINES

Interval = tuple[float, float]


@dataclass(frozen=True)
class TrimBand:
    """A run of trim on the face. height_mm: of the profile, > 0. foot_mm: its underside above the floor (>= 0),
    or None for one that follows the ceiling."""

    label: str
    height_mm: float
    foot_mm: float | None = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.height_mm) and self.height_mm > 0):
            raise DrawingInputError(f"{self.label}: a trim is more than 0 mm high; {self.height_mm:g} was given")
        if self.foot_mm is not None and not (math.isfinite(self.foot_mm) and self.foot_mm >= 0):
            raise DrawingInputError(f"{self.label}: the foot is zero or more above the floor, not {self.foot_mm:g}")


@dataclass(frozen=True)
class FaceView:
    """x runs along the paper from 0, y from the floor at 0 upwards to negative values. ratio: mm to 1 mm of paper."""

    curve: Curve
    face: Face
    ratio: float

    @cached_property
    def length_mm(self) -> float:
        return self.curve.length_mm(FACE_LINES[self.face])

    def x(self, developed_mm: float) -> float:
        # Who stands before the left face sees the walk run from right to left.
        seen = developed_mm if self.face == "right" else self.length_mm - developed_mm
        return seen / self.ratio

    def y(self, height_mm: float) -> float:
        return -height_mm / self.ratio

    @cached_property
    def _runs(self) -> list[tuple[float, float, float, float]]:
        """Each piece's start and length along the centreline, and along this face."""
        offset = self.curve.offset_mm(FACE_LINES[self.face])
        runs, passed = [], 0.0
        for piece in self.curve.pieces:
            length = piece.length_at(offset)
            runs.append((piece.start_mm, piece.length_mm, passed, length))
            passed += length
        return runs

    def developed(self, along_mm: float) -> float:
        """Place on this face abreast of a place along the centreline; on a column past the start, once round."""
        whole = self.curve.centre_length_mm
        rounds = math.floor(along_mm / whole) if self.curve.is_closed and along_mm > whole + 1e-6 else 0
        along_mm -= rounds * whole
        run = next((run for run in self._runs if along_mm <= run[0] + run[1] + 1e-6), self._runs[-1])
        start, length, passed, developed = run
        share = min(max((along_mm - start) / length, 0.0), 1.0)
        return rounds * self.length_mm + passed + developed * share

    def span(self, laid: OpeningOnCurve) -> Interval:
        middle = self.developed(laid.centre_mm)
        half = laid.taken_mm[FACE_LINES[self.face]] / 2
        return (middle - half, middle + half)

    @cached_property
    def spans(self) -> list[Interval]:
        """Where each opening of the curve stands on this face."""
        return [self.span(laid) for laid in self.curve.openings]

    def ceiling(self, along_mm: float) -> float:
        return self.curve.heights.at(along_mm)

    def ceiling_over(self, developed_mm: float) -> float:
        return self.ceiling(self.curve.centre_mm_of(FACE_LINES[self.face], developed_mm))

    def top(self, below_mm: float = 0.0) -> list[Point]:
        """The ceiling line from the start to the end, lowered by `below_mm`; a step has two points."""
        whole = self.curve.centre_length_mm
        stations = [(along, height) for along, height in self.curve.heights.stations if 1e-6 < along < whole - 1e-6]
        # The face's own length bends at each change of piece, and the rake with it.
        places = [(p.start_mm, self.ceiling(p.start_mm)) for p in self.curve.pieces[1:]]
        steps = {along for along, _ in stations}
        marks = stations + [place for place in places if place[0] not in steps]
        marks.sort(key=lambda mark: mark[0])
        chain = [(0.0, self.ceiling(0.0)), *marks, (whole, self.curve.heights.at(whole - 1e-6))]
        return [(self.x(self.developed(along)), self.y(height - below_mm)) for along, height in chain]

    def clear_of_openings(self, first: float, last: float, foot: float, head: float) -> list[Interval]:
        """Parts of a developed stretch not cut by an opening that reaches into the heights given."""
        cuts = sorted(
            self.span(laid.at_height(foot))
            for laid in self.curve.openings
            if laid.opening.sill_mm < head - 1e-6 and laid.opening.head_mm > foot + 1e-6
        )
        parts, passed = [], first
        for start, end in cuts:
            if start > passed + 1e-6:
                parts.append((passed, min(start, last)))
            passed = max(passed, end)
        if passed < last - 1e-6:
            parts.append((passed, last))
        return [(a, b) for a, b in parts if b > a]

    def round_the_start(self, first: float, last: float) -> list[Interval]:
        """A stretch that runs past the start of a column, cut in two there."""
        whole = self.length_mm
        if last <= whole + 1e-6 or not self.curve.is_closed:
            return [(first, min(last, whole))]
        if first >= whole - 1e-6:
            return [(first - whole, last - whole)]
        return [(first, whole), (0.0, last - whole)]
