"""A wall turned to the eye, and from which side it is looked at."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from catalog.drawings.svg import DrawingInputError
from jobs.core.measure.curve import FACES, Curve, Face, OpeningOnCurve, crossing_of
from jobs.drawings.faces.face_view import TrimBand
from jobs.drawings.plan.plan_view import level_turn
from jobs.drawings.solid.edges import Edge, edges_of
from jobs.drawings.solid.hiding import Scene
from jobs.drawings.solid.run import Run
from jobs.drawings.solid.runs import cap_runs, runs_of
from jobs.drawings.solid.sides import Eye, Line, Place3, Side, level

# Doors have to show so much better from the convex side for the wall to be looked at from there.
BETTER = 1.25


@dataclass(frozen=True)
class Cap:
    """What lies on the free top of a half wall, mm."""

    width_mm: float
    thickness_mm: float


@dataclass(frozen=True)
class StandingWall:
    """trims: of the left and the right face; their edges are drawn as fine lines on the face."""

    curve: Curve
    trims: tuple[tuple[TrimBand, ...], tuple[TrimBand, ...]] = ((), ())
    cap: Cap | None = None


@dataclass(frozen=True)
class Stood:
    """The wall turned to the eye: its own runs and those of its cap."""

    wall: StandingWall
    body: tuple[Run, ...]
    caps: tuple[Run, ...]

    @cached_property
    def scene(self) -> Scene:
        return Scene((*self.body, *self.caps))

    @property
    def edges(self) -> list[Edge]:
        body = edges_of(self.body, self._lines, is_covered=bool(self.caps))
        return [*body, *edges_of(self.caps, lambda run, side: ())]

    @property
    def outlines(self) -> list[Edge]:
        """Its edges without those of the trim."""
        body = edges_of(self.body, lambda run, side: (), is_covered=bool(self.caps))
        return [*body, *edges_of(self.caps, lambda run, side: ())]

    def _lines(self, run: Run, side: Side) -> list[Line]:
        """The edges of the trim on a side."""
        lines: list[Line] = []
        for band in self.wall.trims[0 if side.normal > 0 else 1]:
            if band.foot_mm is None:
                top, down = run.top_line, band.height_mm
                lines.append(Line(lambda share, down=down: run.top(share) - down, top.is_level, top.cuts))
                continue
            levels = [band.foot_mm + band.height_mm, *([band.foot_mm] if band.foot_mm > 0 else [])]
            lines += [level(height) for height in levels if height < run.highest]
        return lines

    @cached_property
    def corners(self) -> list[Place3]:
        """Places that hold all of it between them, as near as is needed to lay it on the paper."""
        points: list[Place3] = []
        for run in self.scene.runs:
            for side in run.sides:
                count = 12 if side.centre else 1
                for share in (side.first + (side.last - side.first) * n / count for n in range(count + 1)):
                    point = side.point(share)
                    points += [(*point, run.foot(share)), (*point, run.top(share))]
        return points


def stood(wall: StandingWall, face: Face | None = None) -> Stood:
    """The wall with its start and end level across the paper, a face towards the eye; by itself as `seen_from` has it.

    Raises DrawingInputError for a wall that runs into itself, which cannot stand.
    """
    if crossing_of(wall.curve) is not None:
        raise DrawingInputError("pieces: the wall runs into itself and cannot be drawn standing; its plan shows where")
    return _turned(wall, face or seen_from(wall))


def _turned(wall: StandingWall, face: Face) -> Stood:
    curve = wall.curve
    eye = Eye(_turn(curve, face))
    caps = cap_runs(curve, eye, wall.cap.width_mm, wall.cap.thickness_mm) if wall.cap else ()
    return Stood(wall, runs_of(curve, eye), caps)


def _turn(curve: Curve, face: Face) -> float:
    if not curve.is_closed:
        return level_turn(curve) + (0.0 if face == "right" else math.pi)
    # The first opening of a closed wall is turned to the eye, else its start.
    along = curve.openings[0].centre_mm if curve.openings else 0.0
    return (0.0 if face == "right" else math.pi) - curve.heading_at(along)


def concave_face(curve: Curve) -> Face:
    """The face on the side the wall turns to on the whole; the left one of a straight wall."""
    turned = sum(piece.turn * piece.sweep_rad + piece.turned_rad + piece.kink_rad for piece in curve.pieces)
    return "left" if turned >= 0 else "right"


def seen_from(wall: StandingWall) -> Face:
    """The concave side, unless its openings show clearly better from the other; of a closed wall the outside."""
    curve = wall.curve
    inner = concave_face(curve)
    outer: Face = FACES[1 - FACES.index(inner)]
    if curve.is_closed:
        return outer
    if not curve.openings:
        return inner
    shown = {face: _shown(_turned(wall, face)) for face in (inner, outer)}
    return outer if shown[outer] > BETTER * shown[inner] else inner


def _shown(stood: Stood) -> float:
    """Width across the paper of what is seen of all openings, at half their height."""
    return sum(_seen_of(stood, laid) for laid in stood.wall.curve.openings)


def _seen_of(stood: Stood, laid: OpeningOnCurve) -> float:
    middle = laid.opening.sill_mm + laid.opening.height_mm / 2
    places = [place for run in stood.body for place in _across(run, middle)]
    free = [wide for (x, y), wide in places if not stood.scene.is_hidden(x, y - 1.0, middle)]
    return sum(free)


def _across(run: Run, height: float) -> Iterable[tuple[tuple[float, float], float]]:
    """Five places across each opening of a run at a height, on the side that faces the eye, each with its width."""
    if run.front is None:
        return
    for hole in run.holes:
        if hole.sill < height < hole.head(hole.left[0] / 2 + hole.left[1] / 2):
            first, last = hole.span(run.front)
            wide = abs(run.front.point(last)[0] - run.front.point(first)[0]) / 5
            for n in range(5):
                yield run.front.point(first + (last - first) * (n + 0.5) / 5), wide


def seen_words(curve: Curve, face: Face) -> str:
    """Where the eye stands, in words.

    >>> from jobs.core.measure.curve import curve_of
    >>> from jobs.core.measure.survey import ArcPiece, HeightProfile, RadiusAngle, Survey
    >>> arc = ArcPiece(RadiusAngle(2000.0, 1.0), "left")
    >>> survey = Survey((arc,), HeightProfile(((0.0, 2400.0),)), "centre", 92.0, 12.5, 12.5)
    >>> seen_words(curve_of(survey), "left"), seen_words(curve_of(survey), "right")
    ('from the concave side', 'from the convex side')
    """
    turns = {piece.hand for piece in curve.pieces if piece.hand}
    if len(turns) != 1:
        return f"from the {face} side"
    return "from the concave side" if (face == "left") == (turns == {1}) else "from the convex side"
