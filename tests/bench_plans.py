"""Cost of stick and board plans against first-fit, the heuristic and the proven bound, on generated jobs.

Every job is one list of sticks and one face of a wall, drawn from a fixed seed. Seconds are of this process alone.
"""

import math
import random
import time
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from catalog.core.standards import starter_standards
from jobs.core.board_plan import ProvenFace, prove_face
from jobs.core.boards import BoardLayer, Sheet
from jobs.core.curve import Curve, curve_of
from jobs.core.cutting import CutPiece, CutPlan, Stock, plan_cuts
from jobs.core.stick_plan import plan_sticks
from jobs.core.survey import ArcPiece, HeightProfile, Opening, RadiusAngle, Survey

IN = 25.4
JOBS = 30
STICK_LIMIT_S = 1.0
BOARD_LIMIT_S = 1.0
GROWTH_LIMIT_S = 6.0
GROWTH_FEET = (10, 20, 40, 60)
SHEETS = (
    Sheet("4x8", 96 * IN, 48 * IN, Decimal("11.20")),
    Sheet("4x10", 120 * IN, 48 * IN, Decimal("14.60")),
)
LAYERS = tuple(BoardLayer("GB-1/4", 0.25 * IN, "lengthwise", SHEETS) for _ in range(2))


@dataclass(frozen=True)
class Shares:
    """One plan's cost as shares: of the control above its bound, of the plan above its bound, and seconds taken."""

    control: float
    plan: float
    seconds: float


def stick_job(draw: random.Random) -> tuple[list[CutPiece], list[Stock]]:
    pieces = [CutPiece(f"p{n}", draw.randint(300, 2300) * IN / 16) for n in range(draw.choice((20, 40, 80)))]
    stocks = [Stock("8 ft", 2438.4, Decimal("4.10")), Stock("12 ft", 3657.6, Decimal("6.30"))]
    if draw.random() < 0.5:
        stocks.append(Stock("on hand", 1500.0, Decimal(0), 3))
    return pieces, stocks


def wall(feet: float, radius_in: float, *, doors: int) -> Curve:
    arc = ArcPiece(RadiusAngle(radius_in * IN, feet * 12 / radius_in), "left")
    openings = tuple(
        Opening(f"door {n + 1}", feet * 12 * IN * (n + 1) / (doors + 1), 38.5 * IN, 83 * IN) for n in range(doors)
    )
    return curve_of(Survey((arc,), HeightProfile(((0.0, 108 * IN),)), "centre", 92.075, 12.7, 12.7, openings))


def studs(curve: Curve) -> list[float]:
    count = math.ceil(curve.centre_length_mm / (8 * IN))
    places = [curve.centre_length_mm * n / count for n in range(count + 1)]
    for laid in curve.openings:
        places += [laid.centre_mm - laid.opening.width_mm / 2, laid.centre_mm + laid.opening.width_mm / 2]
    return sorted(places)


def sticks_measured(draw: random.Random) -> Shares | None:
    pieces, stocks = stick_job(draw)
    first = plan_cuts(pieces, stocks, kerf_mm=3.175)
    began = time.process_time()
    plan: CutPlan = plan_sticks(pieces, stocks, kerf_mm=3.175, limit_s=STICK_LIMIT_S, stopwatch=time.process_time)
    took = time.process_time() - began
    assert first.cost is not None and plan.cost is not None
    if not plan.bound.cost:
        return None
    return Shares(float(first.cost / plan.bound.cost) - 1, float(plan.cost / plan.bound.cost) - 1, took)


def face_measured(curve: Curve, limit_s: float, gap: float = 0.0) -> tuple[Shares | None, ProvenFace]:
    began = time.process_time()
    found = prove_face(
        curve, "right", LAYERS, studs(curve), starter_standards(), limit_s=limit_s, gap=gap, stopwatch=time.process_time
    )
    took = time.process_time() - began
    if found.bound_cost is None or found.quick_cost is None or found.gap is None:
        return None, found
    return Shares(float(found.quick_cost / found.bound_cost) - 1, found.gap, took), found


def summed_up(name: str, control: str, shares: list[Shares], jobs: int) -> list[str]:
    def per_cent(values: list[float]) -> str:
        return f"mean {100 * sum(values) / len(values):6.2f} %   most {100 * max(values):6.2f} %"

    proven = sum(1 for one in shares if one.plan <= 0)
    return [
        f"{name}: {jobs} jobs, bound found for {len(shares)}, proven best {proven}, "
        f"{sum(one.seconds for one in shares) / len(shares):.2f} s each",
        f"  {control:<12} over its bound   {per_cent([one.control for one in shares])}",
        f"  {'plan':<12} over its bound   {per_cent([one.plan for one in shares])}",
    ]


def plan_lines() -> Iterator[str]:
    """The table, line by line as it is found."""
    draw = random.Random(2027)
    sticks = [one for _ in range(JOBS) if (one := sticks_measured(draw)) is not None]
    yield from summed_up("stick plans", "first-fit", sticks, JOBS)
    faces = []
    for _ in range(JOBS):
        curve = wall(draw.uniform(8, 24), draw.uniform(110, 260), doors=draw.choice((0, 0, 1)))
        shares, _ = face_measured(curve, BOARD_LIMIT_S)
        if shares is not None:
            faces.append(shares)
    yield from summed_up("board plans", "heuristic", faces, JOBS)
    yield f"growth of a board plan with the wall, two layers 9 ft high, two doors from 40 ft, {GROWTH_LIMIT_S:g} s, 1 %"
    yield "  feet    seconds    heuristic over bound    plan over bound"
    for feet in GROWTH_FEET:
        shares, _ = face_measured(wall(feet, 400, doors=2 if feet >= 40 else 0), GROWTH_LIMIT_S, gap=0.01)
        if shares is None:
            yield f"  {feet:>4}    no bound in the time"
        else:
            control, plan = 100 * shares.control, 100 * shares.plan
            yield f"  {feet:>4}    {shares.seconds:>7.2f}    {control:>18.2f} %    {plan:>13.2f} %"


if __name__ == "__main__":
    for line in plan_lines():
        print(line, flush=True)
