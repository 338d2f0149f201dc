"""A wall cut into runs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import pairwise

from jobs.core.measure.curve import Curve, CurvePiece, OpeningOnCurve
from jobs.drawings.solid.run import Hole, Profile, Run
from jobs.drawings.solid.sides import Eye, Side, Span

TEMPLATE_PARTS = 8
SMALL = 1e-9
# An opening this near to the top reaches it.
OPEN_MM = 1.0


def runs_of(curve: Curve, eye: Eye) -> tuple[Run, ...]:
    """The wall itself, from the floor to its top, in walking order."""
    offsets = curve.offset_mm("left_finished"), curve.offset_mm("right_finished")
    return _ended(curve, [run for piece in curve.pieces for run in _runs_of_piece(curve, piece, eye, offsets)])


def cap_runs(curve: Curve, eye: Eye, width_mm: float, thickness_mm: float) -> tuple[Run, ...]:
    """The cap on top of it, over its whole length; an opening that reaches the top cuts it as well."""
    left, right = curve.offset_mm("left_finished"), curve.offset_mm("right_finished")
    middle = (left + right) / 2
    offsets = middle + width_mm / 2, middle - width_mm / 2
    runs = []
    for piece in curve.pieces:
        for run in _runs_of_piece(curve, piece, eye, offsets):
            tops = tuple((share, height + thickness_mm) for share, height in run.tops)
            cut = tuple(replace(hole, sill=0.0) for hole in run.holes if hole.is_open)
            runs.append(replace(run, feet=run.tops, tops=tops, holes=cut))
    return _ended(curve, runs)


def _ended(curve: Curve, runs: list[Run]) -> tuple[Run, ...]:
    if not curve.is_closed:
        runs[0] = replace(runs[0], is_start=True)
        runs[-1] = replace(runs[-1], is_end=True)
    return tuple(runs)


def _runs_of_piece(curve: Curve, piece: CurvePiece, eye: Eye, offsets: tuple[float, float]) -> Iterable[Run]:
    cuts = sorted({0.0, 1.0, *_edge_on(piece, eye), *_steps(curve, piece), *_parts(piece)})
    ends = [_mitred(curve, piece, offset) for offset in offsets]
    for first, last in pairwise(cuts):
        if last - first < 1e-7:
            continue
        sides = []
        for offset, (before, after), normal in zip(offsets, ends, (1, -1), strict=True):
            span = (before if first == 0 else first, after if last == 1 else last)
            sides.append(_side(piece, eye, offset, span, normal))
        tops, holes = _tops(curve, piece, (first, last)), tuple(_holes(curve, piece, (first, last)))
        yield Run(first, last, ((first, 0.0),), tops, sides[0], sides[1], holes)


def _tops(curve: Curve, piece: CurvePiece, within: Span) -> Profile:
    first, last = within
    between = [share for share in _shares(curve, piece) if first + 1e-6 < share < last - 1e-6]
    middle = [(share, curve.heights.at(piece.start_mm + piece.length_mm * share)) for share in between]
    ends = [(end, _height_inside(curve, piece, end, other)) for end, other in ((first, last), (last, first))]
    points = (ends[0], *middle, ends[1])
    return points if len({height for _, height in points}) > 1 else points[:1]


def _edge_on(piece: CurvePiece, eye: Eye) -> list[float]:
    """Shares at which an arc is seen along: there another side begins to face the eye."""
    if not piece.is_arc:
        return []
    start = piece.heading_rad + eye.turn_rad
    low, high = sorted((start, start + piece.turn * piece.sweep_rad))
    quarters = range(math.ceil((low - math.pi / 2) / math.pi), math.floor((high - math.pi / 2) / math.pi) + 1)
    shares = [(math.pi / 2 + n * math.pi - start) * piece.turn / piece.sweep_rad for n in quarters]
    return [share for share in shares if 1e-6 < share < 1 - 1e-6]


def _shares(curve: Curve, piece: CurvePiece) -> list[float]:
    """Shares of the piece at which a height is given."""
    shares = [(along - piece.start_mm) / piece.length_mm for along, _ in curve.heights.stations]
    return [share for share in shares if 1e-6 < share < 1 - 1e-6]


def _steps(curve: Curve, piece: CurvePiece) -> list[float]:
    shares = sorted(_shares(curve, piece))
    return [share for share, other in pairwise(shares) if other - share < 1e-9]


def _parts(piece: CurvePiece) -> list[float]:
    return [n / TEMPLATE_PARTS for n in range(1, TEMPLATE_PARTS)] if piece.is_template else []


def _height_inside(curve: Curve, piece: CurvePiece, at: float, towards: float) -> float:
    """Height at a share as seen from within its run: a step counts on its own side."""
    near, nearer = (piece.start_mm + piece.length_mm * (at + (towards - at) * part) for part in (1e-6, 2e-6))
    return 2 * curve.heights.at(near) - curve.heights.at(nearer)


def _mitred(curve: Curve, piece: CurvePiece, offset: float) -> Span:
    """Shares at which a side begins and ends, kinks mitred."""
    first, last = 0.0, 1.0
    for joint in curve.kinks:
        gains = curve.mitred_at(joint, offset)
        length = piece.length_at(offset)
        if joint.after_piece == piece.index:
            last = 1.0 + gains[0] / length
        if (joint.after_piece + 1) % len(curve.pieces) == piece.index:
            first = -gains[1] / length
    return (first, last) if last - first > 1e-6 else (0.0, 1.0)


def _side(piece: CurvePiece, eye: Eye, offset: float, span: Span, normal: int) -> Side:
    first, last = span
    start, end = (eye.plan(piece.point_at(share, offset)) for share in span)
    heading = piece.heading_rad + piece.turn * piece.sweep_rad * first + eye.turn_rad
    turned = piece.turn * piece.sweep_rad * (last - first)
    if not piece.is_arc:
        heading = math.atan2(end[1] - start[1], end[0] - start[0])
        return Side(first, last, start, end, _faces(heading, normal), normal, heading, 0.0)
    x, y = piece.start
    out = piece.turn * piece.radius_mm
    centre = eye.plan((x - out * math.sin(piece.heading_rad), y + out * math.cos(piece.heading_rad)))
    faces = _faces(heading + turned / 2, normal)
    return Side(first, last, start, end, faces, normal, heading, turned, centre, piece.radius_at(offset))


def _faces(heading: float, normal: int) -> bool:
    return math.cos(heading) * normal < -SMALL


def _holes(curve: Curve, piece: CurvePiece, within: Span) -> Iterable[Hole]:
    first, last = within
    for laid in curve.openings:
        if laid.piece_index != piece.index:
            continue
        middle = (laid.centre_mm - piece.start_mm) / piece.length_mm
        lines = ("left_finished", "right_finished")
        halves = [laid.taken_mm[line] / 2 / piece.length_at(curve.offset_mm(line)) for line in lines]
        least = min(halves)
        if middle + least <= first or last <= middle - least:
            continue
        left, right = ((max(first, middle - half), min(last, middle + half)) for half in halves)
        ends = middle - least >= first, middle + least <= last
        is_open = laid.opening.head_mm >= curve.heights.least_between(*laid.span_mm) - OPEN_MM
        top = math.inf if is_open else laid.opening.head_mm
        yield Hole(left, right, laid.opening.sill_mm, top, _head_of(laid, piece, top), ends)


def _head_of(laid: OpeningOnCurve, piece: CurvePiece, top: float) -> Callable[[float], float]:
    if not laid.opening.is_arched or top == math.inf:
        return lambda share: top
    return lambda share: laid.head_at(piece.start_mm + piece.length_mm * share)
