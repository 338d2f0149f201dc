"""An independent check of a board plan: it shares no rule and no figure of the planning with the planner.

Everything is worked out again from the wall itself, slice by slice. What is found wrong is returned in words.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Literal

from jobs.core.boards.boards import (
    BoardLayer,
    BoughtSheet,
    FacePlan,
    JobSheets,
    LayerPlan,
    Offcut,
    Sheet,
    SheetCut,
    SheetPiece,
)
from jobs.core.measure.curve import Curve, OpeningOnCurve
from jobs.core.measure.wall_spec import Direction

FaultKind = Literal[
    "off_stud",
    "near_opening",
    "too_near",
    "level_joints",
    "cover",
    "overlap",
    "length",
    "kink",
    "sheet",
    "count",
    "joints",
]
SAME_MM = 1e-4
"""Two figures this near are the same; a saw is a thousand times coarser."""


@dataclass(frozen=True)
class Fault:
    """One thing wrong with a plan: what kind, and a sentence that names the piece, joint or sheet."""

    kind: FaultKind
    sentence: str


def check_face(
    curve: Curve,
    plan: FacePlan,
    layers: Sequence[BoardLayer],
    stud_along_mm: Sequence[float],
    *,
    stagger_mm: float,
    clear_mm: float,
) -> tuple[Fault, ...]:
    """Check a plan against the wall, the studs and the sheets it was made for.

    Args:
        curve: the wall.
        plan: of one face.
        layers: that were to be hung, from the framing outwards.
        stud_along_mm: where studs stand along the centreline, mm.
        stagger_mm: least distance between joints, mm, >= 0.
        clear_mm: least distance of a joint from the edge of an opening, mm, >= 0.

    Returns:
        Everything wrong: boards missing or doubled, developed lengths, joints off studs, near each other or near
        openings, pieces that do not fit their sheets, counts. Empty when the plan is sound.

    Source: the rules named at `jobs.core.boards.boards.plan_face`, worked out again from plane geometry.

    >>> from jobs.core.measure.curve import _example, curve_of
    >>> wall = curve_of(_example())
    >>> [fault.kind for fault in check_face(wall, FacePlan("w", "left", (), (), (), None, ()), (), [],
    ...     stagger_mm=254.0, clear_mm=152.4)]
    []
    """
    if len(plan.layers) != len(layers):
        return (Fault("count", f"{len(layers)} layers were to be hung; the plan has {len(plan.layers)}"),)
    faults: list[Fault] = []
    walls = []
    beneath = 0.0
    for layer, wanted in zip(plan.layers, layers, strict=True):
        wall = _Rolled(curve, plan.face, beneath, wanted.thickness_mm)
        walls.append(wall)
        beneath += wanted.thickness_mm
        faults += _check_lengths(wall, layer)
        faults += _check_cover(wall, layer)
        faults += _check_joints(wall, layer, stud_along_mm, clear_mm)
    faults += _check_distances(plan, walls, stagger_mm)
    faults += _check_level_joints(plan, stagger_mm)
    faults += _check_sheets(plan, layers)
    return tuple(faults)


def check_sheets(sheets: JobSheets, plans: Sequence[FacePlan]) -> tuple[Fault, ...]:
    """Check sheets that several faces share against the boards hung on them.

    Args:
        sheets: what is bought and how it is cut. plans: of all faces that share it.

    Returns:
        Everything wrong: a board cut twice or not at all, from another board or at another size; a sheet that cannot
        be bought, or not be cut so by straight cuts from edge to edge; counts. Empty when the sheets are sound.

    Source: as `check_face`.

    >>> [fault.kind for fault in check_sheets(JobSheets((), (), ()), [])]
    []
    """
    hung = {
        (plan.key, plan.face, piece.number): (piece, layer)
        for plan in plans
        for layer in plan.layers
        for piece in layer.pieces
    }
    sold = {
        (layer.board, layer.direction, sheet.code): sheet
        for plan in plans
        for layer in plan.layers
        for sheet in layer.available
    }
    faults: list[Fault] = []
    times: Counter[tuple[str, str, int]] = Counter()
    for sheet in sheets.sheets:
        faults += _check_one_sheet(sheet, sold)
        for cut in sheet.cuts:
            name = sheets.pieces[cut.piece - 1]
            times[name] += 1
            words = f"board {name[2]} of the {name[1]} face of {name[0]}"
            if name not in hung:
                faults.append(Fault("sheet", f"{words} is cut, but hangs nowhere"))
                continue
            piece, layer = hung[name]
            if (layer.board, layer.direction) != (sheet.board, sheet.direction):
                faults.append(Fault("sheet", f"{words} is cut from another board, sheet {sheet.number}"))
            faults += _check_size(words, piece, cut)
    faults += [
        Fault("sheet", f"board {name[2]} of the {name[1]} face of {name[0]} is cut {times[name]} times")
        for name in hung
        if times[name] != 1
    ]
    counted = {(line.board, line.pack_code): line.count for line in sheets.purchase}
    if counted != Counter((sheet.board, sheet.pack_code) for sheet in sheets.sheets):
        faults.append(Fault("count", f"{counted} are counted, and other sheets are cut"))
    return tuple(faults)


def _check_size(words: str, piece: SheetPiece, cut: SheetCut) -> Iterable[Fault]:
    size = (piece.to_mm - piece.from_mm, piece.head_mm - piece.foot_mm)
    if abs(size[0] - cut.width_mm) > SAME_MM or abs(size[1] - cut.height_mm) > SAME_MM:
        yield Fault("sheet", f"{words} hangs at another size than it is cut")


class _Rolled:
    """One layer rolled out: places on its longer surface, ceilings and openings, straight from the curve."""

    def __init__(self, curve: Curve, face: str, beneath_mm: float, thickness_mm: float) -> None:
        self.curve = curve
        sign = 1.0 if face == "left" else -1.0
        near = sign * (curve.stud_depth_mm / 2 + beneath_mm)
        far = near + sign * thickness_mm
        self.radii = []
        self.bends: list[list[tuple[float, float]]] = []
        for piece in curve.pieces:
            if piece.turn == 0:
                self.radii.append(0.0)
                # A piece to a template is longer by its turning times the offset (Steiner); a straight never is.
                bare = piece.length_mm - min(piece.turned_rad * near, piece.turned_rad * far)
            else:
                # On a left turn the left lines are the shorter, on a right turn the longer.
                radius = max(piece.radius_mm - piece.turn * near, piece.radius_mm - piece.turn * far)
                self.radii.append(radius)
                bare = radius * piece.sweep_rad
            self.bends.append(self._to_mitres(piece.index, piece.length_mm, bare, (near, far)))
        self.lengths = [bends[-1][1] for bends in self.bends]
        self.length = math.fsum(self.lengths)
        last, first = curve.pieces[-1], curve.pieces[0]
        closing = math.remainder(last.end_heading_rad - first.heading_rad, 2 * math.pi)
        self.loop = curve.is_closed and abs(closing) <= math.radians(1.0)
        self.kinks = [
            math.fsum(self.lengths[: p.index]) for p in curve.pieces[1:] if abs(p.kink_rad) > math.radians(1.0)
        ]
        self.openings = [(o.opening.name, *self._opening(o)) for o in curve.openings]

    def _to_mitres(
        self, index: int, along: float, bare: float, offsets: tuple[float, float]
    ) -> list[tuple[float, float]]:
        """Where a piece bends between centreline and layer: a mitre lies in the last millimetre before its kink."""
        first = last = 0.0
        for kink in self.curve.kinks:
            if abs(kink.kink_rad) > math.radians(1.0):
                gains = [self.curve.mitred_at(kink, offset) for offset in offsets]
                if kink.after_piece == index:
                    last = max(before for before, _ in gains)
                if (kink.after_piece + 1) % len(self.curve.pieces) == index:
                    first = max(after for _, after in gains)
        scale = bare / along
        from_start = 1.0 + max(0.0, -first) / scale if abs(first) > 1e-6 else 0.0
        from_end = 1.0 + max(0.0, -last) / scale if abs(last) > 1e-6 else 0.0
        if from_start + from_end >= along:
            return [(0.0, 0.0), (along, bare)]
        bends = [(0.0, 0.0), (along, bare + first + last)]
        bends += [(from_start, first + scale * from_start)] if from_start else []
        bends += [(along - from_end, first + scale * (along - from_end))] if from_end else []
        return sorted(bends)

    def _opening(self, laid: OpeningOnCurve) -> tuple[float, float, float, float]:
        piece, radius = self.curve.pieces[laid.piece_index], self.radii[laid.piece_index]
        opening = laid.opening
        if piece.turn == 0:
            half = opening.width_mm / 2
        elif opening.frame == "radial":
            half = radius * (laid.taken_mm["centre"] / 2 / piece.radius_mm)
        else:
            half = radius * math.asin(opening.width_mm / 2 / radius)
        middle = self.rolled(laid.centre_mm)
        # Boards hang over the arch of an opening, which is cut out of them: their edge is its spring line.
        head_mm = opening.sill_mm + opening.height_mm - (opening.arch_rise_mm or 0.0)
        start = math.fsum(self.lengths[: piece.index])
        low, high = max(middle - half, start), min(middle + half, start + self.lengths[piece.index])
        return low, high, opening.sill_mm, head_mm

    def rolled(self, along_mm: float) -> float:
        """Place on this line abreast of a place on the centreline."""
        total = 0.0
        for piece, bends, own in zip(self.curve.pieces, self.bends, self.lengths, strict=True):
            if along_mm <= piece.start_mm + piece.length_mm:
                within = along_mm - piece.start_mm
                for (a, before), (b, after) in pairwise(bends):
                    if within <= b or b == bends[-1][0]:
                        return total + before + (after - before) * (within - a) / (b - a)
            total += own
        return total + (along_mm - self.curve.centre_length_mm)

    def along(self, at_mm: float) -> float:
        """The inverse of `rolled`, by halving."""
        low, high = 0.0, self.curve.centre_length_mm
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if self.rolled(middle) < at_mm else (low, middle)
        return (low + high) / 2

    def ceiling(self, at_mm: float) -> float:
        return self.curve.heights.at(self.along(at_mm))

    def apart(self, one_mm: float, other_mm: float) -> float:
        gap = abs(one_mm - other_mm)
        if self.loop:
            gap %= self.length
            gap = min(gap, self.length - gap)
        return gap

    def marks(self) -> set[float]:
        """Places where the wall itself changes."""
        marks = {0.0, self.length, *self.kinks}
        marks |= {self.rolled(a) for a, _ in self.curve.heights.stations if 0 < a < self.curve.centre_length_mm}
        starts = [math.fsum(self.lengths[:n]) for n in range(len(self.lengths))]
        marks |= {start + at for start, bends in zip(starts, self.bends, strict=True) for _, at in bends}
        for _, low, high, _, _ in self.openings:
            marks |= {low, high}
        return marks


def _check_lengths(wall: _Rolled, layer: LayerPlan) -> Iterable[Fault]:
    if abs(wall.length - layer.developed_mm) > SAME_MM:
        yield Fault("length", f"layer {layer.number} is {wall.length:.3f} mm long, not {layer.developed_mm:.3f}")
    for piece in layer.pieces:
        for at, along in ((piece.from_mm, piece.from_along_mm), (piece.to_mm, piece.to_along_mm)):
            abreast = wall.rolled(_once(along, wall.curve.centre_length_mm))
            if wall.apart(abreast, at) > SAME_MM:
                yield Fault("length", f"piece {piece.number}: {at:.3f} mm is not abreast of {along:.3f} mm")
        for kink in wall.kinks:
            if any(piece.from_mm + SAME_MM < kink + turn < piece.to_mm - SAME_MM for turn in (0.0, wall.length)):
                yield Fault("kink", f"piece {piece.number} runs over the kink at {kink:.3f} mm")


def _once(place_mm: float, period_mm: float) -> float:
    return place_mm - period_mm if place_mm > period_mm + SAME_MM else place_mm


def _check_cover(wall: _Rolled, layer: LayerPlan) -> Iterable[Fault]:
    """In every slice in which nothing changes, boards fill the height between openings exactly once."""
    spans = [span for piece in layer.pieces for span in _spans(wall, piece)]
    marks = wall.marks()
    for low, high, piece in spans:
        marks |= {low, high}
        for edge in (edge for notch in piece.notches for edge in (notch.from_mm, notch.to_mm)):
            marks |= {edge, edge - wall.length} if wall.loop else {edge}
    edges = sorted(mark for mark in marks if -SAME_MM <= mark <= wall.length + SAME_MM)
    for left, right in pairwise(edges):
        if right - left <= 10 * SAME_MM:
            continue
        for share in (0.001, 0.5, 0.999):
            yield from _check_slice(wall, layer, spans, left + (right - left) * share)


def _spans(wall: _Rolled, piece: SheetPiece) -> list[tuple[float, float, SheetPiece]]:
    """The piece on the line once round: in two parts when it passes the start of a closed column."""
    if not wall.loop or piece.to_mm <= wall.length + SAME_MM:
        return [(piece.from_mm, piece.to_mm, piece)]
    return [(piece.from_mm, wall.length, piece), (0.0, piece.to_mm - wall.length, piece)]


def _check_slice(
    wall: _Rolled, layer: LayerPlan, spans: list[tuple[float, float, SheetPiece]], at: float
) -> Iterable[Fault]:
    ceiling = wall.ceiling(at)
    bands: list[tuple[float, float]] = []
    for low, high, piece in spans:
        if low < at < high:
            bands += _bands(wall, piece, at, ceiling)
    bands.sort()
    for (_, one_head), (other_foot, _) in pairwise(bands):
        if other_foot < one_head - SAME_MM:
            yield Fault(
                "overlap",
                f"layer {layer.number}: boards lie on each other at {at:.2f} mm, {other_foot:.2f} up",
            )
    covered = math.fsum(head - foot for foot, head in bands)
    wanted, open_bands = ceiling, []
    for _, low, high, sill, head in wall.openings:
        if low < at < high:
            wanted -= min(head, ceiling) - min(sill, ceiling)
            open_bands.append((sill, head))
    if abs(covered - wanted) > 0.01:
        yield Fault("cover", f"layer {layer.number}: at {at:.2f} mm boards cover {covered:.2f} of {wanted:.2f} mm")
    for foot, head in bands:
        for sill, top in open_bands:
            if min(head, top) - max(foot, sill) > 0.01:
                yield Fault("cover", f"layer {layer.number}: a board covers an opening at {at:.2f} mm")


def _bands(wall: _Rolled, piece: SheetPiece, at: float, ceiling: float) -> list[tuple[float, float]]:
    """Board of one piece on an upright line: from foot to head or ceiling, less its notches."""
    parts = [(piece.foot_mm, min(piece.head_mm, ceiling))]
    for notch in piece.notches:
        if any(notch.from_mm < at + turn < notch.to_mm for turn in ((0.0, wall.length) if wall.loop else (0.0,))):
            parts = [
                cut
                for foot, head in parts
                for cut in ((foot, min(head, notch.foot_mm)), (max(foot, notch.head_mm), head))
                if cut[1] - cut[0] > SAME_MM
            ]
    return [(foot, head) for foot, head in parts if head - foot > SAME_MM]


def _met_ends(wall: _Rolled, layer: LayerPlan) -> list[tuple[int, float, SheetPiece]]:
    """Places where two boards of one course meet side by side, from the boards alone: (course, place, board)."""
    faults = []
    for piece in layer.pieces:
        for other in layer.pieces:
            together = min(piece.head_mm, other.head_mm) - max(piece.foot_mm, other.foot_mm) > SAME_MM
            if piece.course == other.course and together and wall.apart(piece.to_mm, other.from_mm) <= SAME_MM:
                at = _once(piece.to_mm, wall.length) if wall.loop else piece.to_mm
                if all(wall.apart(at, kink) > SAME_MM for kink in wall.kinks):
                    faults.append((piece.course, at, piece))
    return faults


def _check_joints(wall: _Rolled, layer: LayerPlan, studs: Sequence[float], clear_mm: float) -> Iterable[Fault]:
    met = _met_ends(wall, layer)
    stated = [(joint.course, joint.at_mm) for joint in layer.joints]
    for course, at, _ in met:
        if not any(c == course and wall.apart(s, at) <= SAME_MM for c, s in stated):
            yield Fault("joints", f"layer {layer.number}, course {course}: boards meet at {at:.2f} mm without a joint")
    if len(met) != len(stated):
        yield Fault("joints", f"layer {layer.number} states {len(stated)} joints; boards meet {len(met)} times")
    places = [wall.rolled(stud) for stud in studs]
    for course, at, _ in met:
        words = f"layer {layer.number}, course {course}: the joint at {at:.2f} mm"
        if not any(wall.apart(at, place) <= SAME_MM for place in places):
            yield Fault("off_stud", f"{words} is not on a stud")
        bottom = min(c.foot_mm for c in layer.courses if c.number == course)
        top = max(p.head_mm for p in layer.pieces if p.course == course)
        for name, low, high, sill, head in wall.openings:
            touches = sill <= top + SAME_MM and head >= bottom - SAME_MM
            if touches and min(wall.apart(at, low), wall.apart(at, high)) < clear_mm - SAME_MM:
                yield Fault("near_opening", f"{words} is near an edge of {name}")


def _check_distances(plan: FacePlan, walls: Sequence[_Rolled], stagger_mm: float) -> Iterable[Fault]:
    joints = [
        (n, course, wall.along(at), _reach(layer, course))
        for n, (layer, wall) in enumerate(zip(plan.layers, walls, strict=True))
        for course, at, _ in _met_ends(wall, layer)
    ]
    for (n, course, along, reach), (m, other_course, other_along, other_reach) in combinations(joints, 2):
        if n == m:
            beside = abs(course - other_course) <= 1
        else:
            beside = abs(n - m) == 1 and min(reach[1], other_reach[1]) - max(reach[0], other_reach[0]) > SAME_MM
        gap = min(walls[k].apart(walls[k].rolled(along), walls[k].rolled(other_along)) for k in (n, m))
        if beside and gap < stagger_mm - SAME_MM:
            words = f"layer {n + 1} course {course} and layer {m + 1} course {other_course}"
            yield Fault("too_near", f"joints of {words} are {gap:.2f} mm apart at {along:.2f} mm")


def _reach(layer: LayerPlan, course: int) -> tuple[float, float]:
    return next((c.foot_mm, c.head_mm) for c in layer.courses if c.number == course)


def _check_level_joints(plan: FacePlan, stagger_mm: float) -> Iterable[Fault]:
    for inner, outer in pairwise(plan.layers):
        for course in inner.courses[1:]:
            for other in outer.courses[1:]:
                if abs(course.foot_mm - other.foot_mm) < stagger_mm - SAME_MM:
                    yield Fault("level_joints", f"level joints at {course.foot_mm:.2f} and {other.foot_mm:.2f} mm")


def _check_sheets(plan: FacePlan, layers: Sequence[BoardLayer]) -> Iterable[Fault]:
    cut_from: Counter[int] = Counter()
    sold = {(layer.board, layer.direction, sheet.code): sheet for layer in layers for sheet in layer.sheets}
    pieces = {piece.number: piece for layer in plan.layers for piece in layer.pieces}
    boards = {piece.number: layer for layer in plan.layers for piece in layer.pieces}
    for sheet in plan.sheets:
        cut_from.update(cut.piece for cut in sheet.cuts)
        yield from _check_one_sheet(sheet, sold)
        for cut in sheet.cuts:
            piece, layer = pieces[cut.piece], boards[cut.piece]
            if (layer.board, layer.direction) != (sheet.board, sheet.direction):
                yield Fault("sheet", f"piece {piece.number} is cut from another board, sheet {sheet.number}")
            if piece.sheet_number != sheet.number or piece.pack_code != sheet.pack_code:
                yield Fault("sheet", f"piece {piece.number} names another sheet than {sheet.number}")
            yield from _check_size(f"piece {piece.number}", piece, cut)
    for number in pieces:
        if cut_from[number] != 1:
            yield Fault("sheet", f"piece {number} is cut {cut_from[number]} times")
    bought = Counter((sheet.board, sheet.pack_code) for sheet in plan.sheets)
    for lines, where in (
        (plan.purchase, "the plan"),
        ([line for layer in plan.layers for line in layer.purchase], "its layers"),
    ):
        counted: Counter[tuple[str, str]] = Counter()
        for line in lines:
            counted[line.board, line.pack_code] += line.count
        if counted != bought:
            yield Fault("count", f"{where} counts {dict(counted)}; {dict(bought)} are cut")


def _check_one_sheet(sheet: BoughtSheet, sold: Mapping[tuple[str, Direction, str], Sheet]) -> Iterable[Fault]:
    words = f"sheet {sheet.number}"
    kind = sold.get((sheet.board, sheet.direction, sheet.pack_code))
    sides = None if kind is None else (kind.length_mm, kind.width_mm)
    if sides is not None and sheet.direction == "widthwise":
        sides = (sides[1], sides[0])
    if (sheet.across_mm, sheet.up_mm) != sides:
        yield Fault("sheet", f"{words} is not a sheet that can be bought: {sheet.pack_code}")
    parts: list[SheetCut | Offcut] = [*sheet.cuts, *sheet.offcuts]
    boxes = [(p.across_mm, p.up_mm, p.across_mm + p.width_mm, p.up_mm + p.height_mm) for p in parts]
    for left, low, right, high in boxes:
        if left < -SAME_MM or low < -SAME_MM or right > sheet.across_mm + SAME_MM or high > sheet.up_mm + SAME_MM:
            yield Fault("sheet", f"{words}: a part reaches over its edge")
    for first, other in combinations(boxes, 2):
        wide = min(first[2], other[2]) - max(first[0], other[0])
        tall = min(first[3], other[3]) - max(first[1], other[1])
        if wide > SAME_MM and tall > SAME_MM:
            yield Fault("sheet", f"{words}: two parts overlap")
    area = math.fsum((right - left) * (high - low) for left, low, right, high in boxes)
    if abs(area - sheet.across_mm * sheet.up_mm) > 1.0:
        yield Fault("sheet", f"{words}: pieces and off-cuts do not add up to the sheet")
    if not _cuts_through([box for box in boxes if box[2] - box[0] > SAME_MM and box[3] - box[1] > SAME_MM]):
        yield Fault("sheet", f"{words} cannot be cut by straight cuts from edge to edge")


def _cuts_through(boxes: list[tuple[float, float, float, float]]) -> bool:
    """Whether straight cuts from edge to edge part all boxes."""
    if len(boxes) <= 1:
        return True
    for low, high in ((0, 2), (1, 3)):
        for cut in sorted({box[high] for box in boxes})[:-1]:
            first = [box for box in boxes if box[high] <= cut + SAME_MM]
            rest = [box for box in boxes if box[low] >= cut - SAME_MM]
            if first and rest and len(first) + len(rest) == len(boxes):
                return _cuts_through(first) and _cuts_through(rest)
    return False
