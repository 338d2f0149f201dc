"""A standing wall as triangles made straight from its curve, and rays cast against them: apart from the drawing's code.

Arcs are broken into chords of a degree, so what is compared is compared to a few millimetres only.
"""

import math
from itertools import pairwise

import numpy

from jobs.core.measure.curve import Curve

STEP_RAD = math.radians(1)


class Faces:
    """turn_rad: of the wall in plan. towards: the way to the eye. cap: (width, thickness) in mm."""

    def __init__(self, curve: Curve, turn_rad: float, towards, cap=None) -> None:
        self.curve, self.turn, self.towards = curve, turn_rad, numpy.array(towards, float)
        self.triangles: list = []
        left, right = (curve.offset_mm(line) for line in ("left_finished", "right_finished"))
        self._stand(left, right, None)
        if cap:
            middle, (width, thickness) = (left + right) / 2, cap
            self._stand(middle + width / 2, middle - width / 2, thickness)
        corners = numpy.array(self.triangles)
        self.a, self.b, self.c = corners[:, 0], corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]

    def is_hidden(self, place, ahead_mm: float) -> bool:
        """Moeller and Trumbore's way, against every triangle."""
        start = numpy.array(place) + self.towards * ahead_mm
        across = numpy.cross(self.towards, self.c)
        det = (self.b * across).sum(axis=1)
        with numpy.errstate(divide="ignore", invalid="ignore"):
            away = start - self.a
            u = (away * across).sum(axis=1) / det
            other = numpy.cross(away, self.b)
            v = (other @ self.towards) / det
            t = (self.c * other).sum(axis=1) / det
            return bool(((abs(det) > 1e-9) & (u >= 0) & (v >= 0) & (u + v <= 1) & (t > 1e-6)).any())

    def _quad(self, a, b, c, d) -> None:
        self.triangles += [(a, b, c), (a, c, d)]

    def _at(self, piece, share: float, offset: float, height: float):
        x, y = piece.point_at(share, offset)
        c, s = math.cos(self.turn), math.sin(self.turn)
        return (x * c - y * s, x * s + y * c, height)

    def _stand(self, left: float, right: float, cap: float | None) -> None:
        curve = self.curve
        for piece in curve.pieces:
            spans = {offset: self._span(piece, offset) for offset in (left, right)}
            holes = [laid for laid in curve.openings if laid.piece_index == piece.index]
            if cap is not None:
                holes = [laid for laid in holes if self._is_open(laid)]
            for line, offset in (("left_finished", left), ("right_finished", right)):
                cuts = [self._share(piece, laid, line) for laid in holes]
                for a, b in self._cells(piece, spans[offset], [end for cut in cuts for end in cut]):
                    inside = [h for h, cut in zip(holes, cuts, strict=True) if cut[0] < (a + b) / 2 < cut[1]]
                    self._upright(piece, offset, a, b, inside, cap)
            self._flats(piece, spans, left, right, holes, cap)
            for laid in holes:
                self._lining(piece, laid, left, right, cap)
        if not curve.is_closed:
            for piece, share in ((curve.pieces[0], 0.0), (curve.pieces[-1], 1.0)):
                foot, top = self._levels(piece, share, share, cap)
                corners = [(left, foot), (right, foot), (right, top), (left, top)]
                self._quad(*(self._at(piece, share, offset, z) for offset, z in corners))

    def _is_open(self, laid) -> bool:
        """Within a millimetre of the lowest top over it."""
        return laid.opening.head_mm >= self.curve.heights.least_between(*laid.span_mm) - 1

    def _span(self, piece, offset: float):
        first, last = 0.0, 1.0
        for joint in self.curve.kinks:
            before, after = self.curve.mitred_at(joint, offset)
            if joint.after_piece == piece.index:
                last = 1 + before / piece.length_at(offset)
            if (joint.after_piece + 1) % len(self.curve.pieces) == piece.index:
                first = -after / piece.length_at(offset)
        return first, last

    def _share(self, piece, laid, line):
        middle = (laid.centre_mm - piece.start_mm) / piece.length_mm
        half = laid.taken_mm[line] / 2 / piece.length_at(self.curve.offset_mm(line))
        return middle - half, middle + half

    def _cells(self, piece, span, more=()):
        first, last = span
        stations = [(along - piece.start_mm) / piece.length_mm for along, _ in self.curve.heights.stations]
        count = max(1, math.ceil(piece.sweep_rad / STEP_RAD))
        even = [first + (last - first) * n / count for n in range(count + 1)]
        cuts = sorted({*even, *(s for s in (*stations, *more) if first < s < last)})
        return [(a, b) for a, b in pairwise(cuts) if b - a > 1e-9]

    def _levels(self, piece, share: float, towards: float, cap: float | None):
        """Foot and top at a share, a hair towards another, so that a step counts on its own side."""
        inside = min(max(share + (towards - share) * 1e-6, 0.0), 1.0)
        top = self.curve.heights.at(piece.start_mm + piece.length_mm * inside)
        return (0.0, top) if cap is None else (top, top + cap)

    def _upright(self, piece, offset, a, b, inside, cap) -> None:
        (foot_a, top_a), (foot_b, top_b) = self._levels(piece, a, b, cap), self._levels(piece, b, a, cap)
        if cap is not None and inside:
            return
        low = [(foot_a, foot_b)]
        high = []
        for laid in sorted(inside, key=lambda entry: entry.opening.sill_mm):
            high.append((laid.opening.sill_mm, laid.opening.sill_mm))
            heads = [laid.head_at(piece.start_mm + piece.length_mm * s) for s in (a, b)]
            low.append((top_a, top_b) if self._is_open(laid) else (heads[0], heads[1]))
        high.append((top_a, top_b))
        for (za, zb), (ya, yb) in zip(low, high, strict=True):
            if ya - za > 1e-6 or yb - zb > 1e-6:
                ends = [(a, za), (b, zb), (b, yb), (a, ya)]
                self._quad(*(self._at(piece, share, offset, z) for share, z in ends))

    def _flats(self, piece, spans, left, right, holes, cap) -> None:
        # As far as it reaches on either side: of a flat frame the one is wider than the other.
        both = [[self._share(piece, laid, line) for line in ("left_finished", "right_finished")] for laid in holes]
        cuts = [(min(entry[0], other[0]), max(entry[1], other[1])) for entry, other in both]
        for a, b in self._cells(piece, (0.0, 1.0), [end for cut in cuts for end in cut]):
            over = [laid for laid, cut in zip(holes, cuts, strict=True) if cut[0] < (a + b) / 2 < cut[1]]
            gap = any(self._is_open(laid) for laid in over)
            if gap:
                continue
            points = []
            for share, towards, offset in ((a, b, left), (b, a, left), (b, a, right), (a, b, right)):
                first, last = spans[offset]
                real = first if share == 0.0 else last if share == 1.0 else share
                _, top = self._levels(piece, real, towards, cap)
                points.append(self._at(piece, real, offset, top))
            self._quad(*points)

    def _lining(self, piece, laid, left, right, cap) -> None:
        """Jambs, sill and head of an opening."""
        opening = laid.opening
        entry, other = self._share(piece, laid, "left_finished"), self._share(piece, laid, "right_finished")
        for end in (0, 1):
            mid = (entry[end] + other[end]) / 2
            foot, top = self._levels(piece, mid, 0.5, cap)
            foot, top = (
                (foot, top) if cap is not None else (opening.sill_mm, top if self._is_open(laid) else opening.spring_mm)
            )
            ends = [
                (entry[end], left, foot),
                (other[end], right, foot),
                (other[end], right, top),
                (entry[end], left, top),
            ]
            self._quad(*(self._at(piece, *place) for place in ends))
        if cap is not None:
            return
        count = 24
        for n in range(count):
            p, q = n / count, (n + 1) / count
            shares = [(s[0] + (s[1] - s[0]) * part) for s, part in ((entry, p), (entry, q), (other, q), (other, p))]
            offsets = (left, left, right, right)
            if opening.sill_mm > 0:
                self._quad(*(self._at(piece, s, o, opening.sill_mm) for s, o in zip(shares, offsets, strict=True)))
            heads = [laid.head_at(piece.start_mm + piece.length_mm * s) for s in shares]
            if not self._is_open(laid):
                rows = zip(shares, offsets, heads, strict=True)
                self._quad(*(self._at(piece, s, o, z) for s, o, z in rows))
