"""Walls made up at random from a seed: S-curves, more than half circles, kinks, slopes, steps, openings, half walls."""

import math
import random

from jobs.core.measure.curve import Curve, crossing_of, curve_of
from jobs.core.measure.survey import (
    ArcPiece,
    HeightProfile,
    Opening,
    RadiusAngle,
    StraightPiece,
    Survey,
    SurveyError,
)


def generated_wall(seed: int) -> tuple[Curve, tuple[float, float] | None]:
    """A wall that does not run into itself, and the width and thickness of its cap, if it has one."""
    rng = random.Random(seed)
    while True:
        try:
            curve, cap = _wall(rng)
        except SurveyError:
            continue
        if crossing_of(curve) is None:
            return curve, cap


def _wall(rng: random.Random) -> tuple[Curve, tuple[float, float] | None]:
    pieces = [_piece(rng, index) for index in range(rng.choice((1, 1, 2, 3, 4)))]
    half = rng.random() < 0.3
    depth, board = rng.uniform(40, 150), rng.uniform(6, 30)
    long = sum(p.length_mm if isinstance(p, StraightPiece) else p.given.radius_mm * p.given.sweep_rad for p in pieces)
    heights = HeightProfile(_heights(rng, long, (900, 1300) if half else (2200, 3600)))
    openings = [
        _opening(rng, n, long, heights.least_between(0, long), half) for n in range(rng.choice((0, 0, 1, 1, 2)))
    ]
    curve = curve_of(Survey(tuple(pieces), heights, "centre", depth, board, board, tuple(openings)))
    whole = depth + 2 * board
    return curve, (whole + rng.uniform(10, 80), rng.uniform(18, 45)) if half and rng.random() < 0.7 else None


def _piece(rng: random.Random, index: int) -> ArcPiece | StraightPiece:
    kink = rng.choice((0.0, 0.0, 0.0, rng.uniform(-1.2, 1.2))) if index else 0.0
    if rng.random() < 0.25:
        return StraightPiece(rng.uniform(400, 4000), kink)
    sweep = math.radians(rng.choice((rng.uniform(10, 120), rng.uniform(120, 290), 180, 264)))
    return ArcPiece(RadiusAngle(rng.uniform(500, 3500), sweep), rng.choice(("left", "right")), None, kink)


def _heights(rng: random.Random, long: float, between: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    def high() -> float:
        return rng.uniform(*between)

    kind = rng.choice(("level", "level", "slope", "vault", "step"))
    if kind == "level":
        return ((0.0, high()),)
    if kind == "slope":
        return ((0.0, high()), (long, high()))
    middle = long * rng.uniform(0.3, 0.7)
    if kind == "vault":
        return ((0.0, high()), (middle, high()), (long, high()))
    value, other = high(), high()
    return ((0.0, value), (middle, value), (middle, other))


def _opening(rng: random.Random, number: int, long: float, ceiling: float, half: bool) -> Opening:
    wide, centre = rng.uniform(500, 1400), long * rng.uniform(0.15, 0.85)
    frame = rng.choice(("flat", "radial"))
    if half:
        return Opening(f"Gap {number}", centre, wide, ceiling, frame=frame)
    if rng.random() < 0.5:
        high = rng.uniform(1900, ceiling - 60)
        rise = rng.choice((None, None, wide * rng.uniform(0.1, 0.5)))
        return Opening(f"Door {number}", centre, wide, high, frame=frame, arch_rise_mm=rise)
    sill = rng.uniform(300, 1100)
    return Opening(f"Window {number}", centre, wide, rng.uniform(300, ceiling - sill - 60), sill, frame=frame)
