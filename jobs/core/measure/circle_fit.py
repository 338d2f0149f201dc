"""One arc, or a straight, through measured points: an algebraic start, then a geometric refinement.

The arc is described by the point of it nearest the middle of the points, the direction of walking there and its
curvature. In that form a straight is an arc of curvature 0 and nothing breaks down on the way to it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from jobs.core.measure.curve import Point
from jobs.core.measure.least_squares import refine
from jobs.core.measure.survey import SurveyError

FLATTEST_MM = 1e7
"""A radius beyond ten kilometres is a straight wall, as in the survey."""


@dataclass(frozen=True)
class ArcFit:
    """An arc fitted to points.

    Args:
        at: a point of the arc, mm, the nearest to the middle of the points.
        heading_rad: direction of walking there, counter-clockwise from +x, in the order of the points.
        curvature_per_mm: one over the radius, left positive; 0 for a straight.
        deviations_mm: how far each point stands off the arc, left of walking positive, in order.

    >>> fit_arc([(0.0, 0.0), (50.0, -50.0), (100.0, 0.0)]).turn
    1
    """

    at: Point
    heading_rad: float
    curvature_per_mm: float
    deviations_mm: tuple[float, ...]

    @property
    def radius_mm(self) -> float | None:
        """The radius in mm, > 0; None on a straight."""
        flat = abs(self.curvature_per_mm) * FLATTEST_MM <= 1
        return None if flat else 1 / abs(self.curvature_per_mm)

    @property
    def turn(self) -> int:
        """+1 left, -1 right, 0 straight."""
        if self.radius_mm is None:
            return 0
        return 1 if self.curvature_per_mm > 0 else -1

    @property
    def largest_mm(self) -> float:
        """The largest deviation, mm, >= 0."""
        return max(abs(value) for value in self.deviations_mm)


def off_arc_mm(point: Point, at: Point, heading_rad: float, curvature_per_mm: float) -> float:
    """How far a point stands off an arc, square to it.

    Args:
        point: the point, mm. at: a point of the arc, mm. heading_rad: of walking there.
        curvature_per_mm: left positive, 0 for a straight.

    Returns:
        The distance in mm, left of walking positive.

    Raises:
        nothing.

    Source: distance to a circle, written without the difference of two great radii so that it holds down to 0.

    >>> off_arc_mm((0.0, 30.0), (0.0, 0.0), 0.0, 1 / 100)
    30.0
    """
    dx, dy = point[0] - at[0], point[1] - at[1]
    square_off = dy * math.cos(heading_rad) - dx * math.sin(heading_rad)
    lifted = square_off - curvature_per_mm / 2 * (dx * dx + dy * dy)
    return 2 * lifted / (1 + math.sqrt(max(0.0, 1 - 2 * curvature_per_mm * lifted)))


def fit_arc(points: Sequence[Point]) -> ArcFit:
    """The arc or straight with the least sum of squared distances to the points.

    Args:
        points: at least 3, (x, y) in mm, in walking order, not all in one place.

    Returns:
        The fit, with each point's deviation in mm.

    Raises:
        SurveyError: fewer than 3 points, a coordinate not finite, or all in one place.

    Source: Taubin's algebraic fit (IEEE Trans. PAMI 13, 1991) as the start, Gauss-Newton refinement.

    >>> round(fit_arc([(0.0, 0.0), (84.0, 30.0), (168.0, 0.0)]).radius_mm, 6)
    132.6
    """
    if len(points) < 3:
        raise SurveyError("points", f"an arc needs at least three points; {len(points)} were given")
    if not all(math.isfinite(x) and math.isfinite(y) and max(abs(x), abs(y)) <= 1e7 for x, y in points):
        raise SurveyError("points", "each point needs two finite coordinates within 10 km")
    middle = (_mean([x for x, _ in points]), _mean([y for _, y in points]))
    spread = math.sqrt(_mean([(x - middle[0]) ** 2 + (y - middle[1]) ** 2 for x, y in points]))
    if spread <= 1e-6:
        raise SurveyError("points", "the points must be apart from one another")
    near = [((x - middle[0]) / spread, (y - middle[1]) / spread) for x, y in points]
    start = _algebraic(near)

    def off(unknowns: Sequence[float]) -> list[float]:
        heading, aside, curvature = unknowns
        at = (-aside * math.sin(heading), aside * math.cos(heading))
        return [off_arc_mm(point, at, heading, curvature) for point in near]

    heading, aside, curvature = refine(off, start, (1e-6, 1e-6, 1e-6))
    if _walked(near, heading, aside, curvature) < 0:
        heading, aside, curvature = heading + math.pi, -aside, -curvature
    heading = math.remainder(heading, 2 * math.pi)
    at = (middle[0] - spread * aside * math.sin(heading), middle[1] + spread * aside * math.cos(heading))
    deviations = tuple(off_arc_mm(point, at, heading, curvature / spread) for point in points)
    return ArcFit(at, heading, curvature / spread, deviations)


def squares_of_fit(moments: Sequence[float]) -> float:
    """About the least sum of squared distances an arc can have to points, from their sums alone.

    Args:
        moments: of the points: count, sums of x, y, x2, xy, y2, xz, yz, z2 with z = x2 + y2; mm to their powers.

    Returns:
        The sum in mm2, >= 0. An estimate good enough to compare ways of cutting a wall into pieces.

    Raises:
        nothing of its own.

    Source: the least eigenvalue of Taubin's fit, by the trigonometric solution of the cubic.

    >>> ring = [(100.0, 0.0), (0.0, 100.0), (-100.0, 0.0), (0.0, -100.0)]
    >>> squares_of_fit((4, 0.0, 0.0, 2e4, 0.0, 2e4, 0.0, 0.0, 4e8)) < 1e-6
    True
    """
    return max(0.0, _least_eigenvalue(_taubin(moments)))


def _mean(values: Sequence[float]) -> float:
    return math.fsum(values) / len(values)


def _walked(near: Sequence[Point], heading: float, aside: float, curvature: float) -> float:
    """Progress along the arc from point to point, each step by the arc's own direction there."""
    at = (-aside * math.sin(heading), aside * math.cos(heading))
    total = 0.0
    for (x, y), (next_x, next_y) in pairwise(near):
        along = math.cos(heading) - curvature * (y - at[1]), math.sin(heading) + curvature * (x - at[0])
        total += (next_x - x) * along[0] + (next_y - y) * along[1]
    return total


def _taubin(moments: Sequence[float]) -> tuple[tuple[float, float, float], ...]:
    """Sums of the products of ((z - mean z) / (2 sqrt(mean z)), x, y) about the middle of the points."""
    n, sx, sy, sxx, sxy, syy, sxz, syz, szz = moments
    mx, my = sx / n, sy / n
    xx, xy, yy = sxx - n * mx * mx, sxy - n * mx * my, syy - n * my * my
    total = xx + yy
    if total <= 0:
        return ((0.0, 0.0, 0.0),) * 3
    # z about the middle is z - 2 mx x - 2 my y + mx2 + my2.
    sz, shift = sxx + syy, mx * mx + my * my
    zx = sxz - 2 * mx * sxx - 2 * my * sxy + shift * sx
    zy = syz - 2 * mx * sxy - 2 * my * syy + shift * sy
    zz = (
        szz
        + 4 * (mx * mx * sxx + my * my * syy + 2 * mx * my * sxy)
        + n * shift * shift
        - 4 * (mx * sxz + my * syz)
        + 2 * shift * sz
        - 4 * shift * (mx * sx + my * sy)
    )
    zx, zy = zx - mx * total, zy - my * total
    scale = 2 * math.sqrt(total / n)
    corner = (zz - total * total / n) / scale**2
    return ((corner, zx / scale, zy / scale), (zx / scale, xx, xy), (zy / scale, xy, yy))


def _algebraic(near: Sequence[Point]) -> tuple[float, float, float]:
    moments = [0.0] * 9
    for x, y in near:
        z = x * x + y * y
        for place, value in enumerate((1.0, x, y, x * x, x * y, y * y, x * z, y * z, z * z)):
            moments[place] += value
    lead, bx, by = _least_eigenvector(_taubin(moments))
    mean_z = (moments[3] + moments[5]) / moments[0]
    a = lead / (2 * math.sqrt(mean_z))
    d = -a * mean_z
    slope = math.hypot(bx, by)
    normal = (bx / slope, by / slope) if slope > 1e-12 else (0.0, 1.0)
    # The gradient on the arc itself; its square is never below zero, for a and d have opposite signs.
    steep = math.sqrt(slope * slope - 4 * a * d)
    aside = -2 * d / (slope + steep)
    return math.atan2(-normal[0], normal[1]), aside, -2 * a / steep


def _least_eigenvalue(matrix: Sequence[Sequence[float]]) -> float:
    (a, b, c), (_, d, e), (_, _, f) = matrix
    third = (a + d + f) / 3
    off = b * b + c * c + e * e
    spread = math.sqrt(max(0.0, ((a - third) ** 2 + (d - third) ** 2 + (f - third) ** 2 + 2 * off) / 6))
    if spread == 0:
        return third
    p, q, r = (a - third) / spread, (d - third) / spread, (f - third) / spread
    b, c, e = b / spread, c / spread, e / spread
    half = (p * (q * r - e * e) - b * (b * r - e * c) + c * (b * e - q * c)) / 2
    angle = math.acos(min(1.0, max(-1.0, half))) / 3
    return third + 2 * spread * math.cos(angle + 2 * math.pi / 3)


def _least_eigenvector(matrix: Sequence[Sequence[float]]) -> tuple[float, float, float]:
    """By Jacobi's rotations, which keep the small eigenvalue's digits."""
    m = [list(row) for row in matrix]
    axes = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
    for _ in range(30):
        p, q = max(((0, 1), (0, 2), (1, 2)), key=lambda pair: abs(m[pair[0]][pair[1]]))
        if abs(m[p][q]) <= 1e-17 * (abs(m[0][0]) + abs(m[1][1]) + abs(m[2][2])):
            break
        tilt = (m[q][q] - m[p][p]) / (2 * m[p][q])
        tangent = math.copysign(1.0, tilt) / (abs(tilt) + math.hypot(tilt, 1.0))
        cosine = 1 / math.hypot(tangent, 1.0)
        sine = tangent * cosine
        for row in (*m, *axes):
            row[p], row[q] = cosine * row[p] - sine * row[q], sine * row[p] + cosine * row[q]
        m[p], m[q] = (
            [cosine * x - sine * y for x, y in zip(m[p], m[q], strict=True)],
            [sine * x + cosine * y for x, y in zip(m[p], m[q], strict=True)],
        )
    least = min(range(3), key=lambda place: m[place][place])
    return axes[0][least], axes[1][least], axes[2][least]
