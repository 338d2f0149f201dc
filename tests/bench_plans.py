"""Cost of stick and board plans against first-fit, the heuristic and the proven bound, on generated jobs.

Every job is one list of sticks and one face of a wall, drawn from a fixed seed. Seconds are of this process alone.
"""

import math
import random
import time
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from catalog.core.materials.standards import starter_standards
from jobs.core.boards.board_optimiser import ProvenFace, prove_face, prove_job
from jobs.core.boards.boards import BoardLayer, Sheet, lay_out_face, merge, plan_face
from jobs.core.cutting.cutting import CutPiece, CutPlan, Stock, plan_cuts
from jobs.core.cutting.cutting_optimiser import plan_sticks
from jobs.core.measure.curve import FACES, Curve, curve_of
from jobs.core.measure.survey import ArcPiece, HeightProfile, Opening, RadiusAngle, Survey

IN = 25.4
JOBS = 30
STICK_LIMIT_S = 1.0
BOARD_LIMIT_S = 1.0
GROWTH_LIMIT_S = 6.0
GROWTH_FEET = (10, 20, 40, 60)
GROWTH_WALLS = (1, 2, 4, 8)
TRIPLET_SETS = 4
PICTURE = Path(".cache") / "bench" / "plans.svg"
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
    face = prove_face(
        curve, "right", LAYERS, studs(curve), starter_standards(), limit_s=limit_s, gap=gap, stopwatch=time.process_time
    )
    took = time.process_time() - began
    if face.bound_cost is None or face.quick_cost is None or face.gap is None:
        return None, face
    return Shares(float(face.quick_cost / face.bound_cost) - 1, face.gap, took), face


def summed_up(name: str, control: str, shares: list[Shares], jobs: int) -> list[str]:
    def per_cent(values: list[float]) -> str:
        return f"mean {100 * sum(values) / len(values):6.2f} %   most {100 * max(values):6.2f} %"

    proven = sum(1 for share in shares if share.plan <= 0)
    return [
        f"{name}: {jobs} jobs, bound found for {len(shares)}, proven best {proven}, "
        f"{sum(share.seconds for share in shares) / len(shares):.2f} s each",
        f"  {control:<12} over its bound   {per_cent([share.control for share in shares])}",
        f"  {'plan':<12} over its bound   {per_cent([share.plan for share in shares])}",
    ]


def plan_lines() -> Iterator[str]:
    """The table, line by line as it is found."""
    draw = random.Random(2027)
    sticks = [share for _ in range(JOBS) if (share := sticks_measured(draw)) is not None]
    yield from summed_up("stick plans", "first-fit", sticks, JOBS)
    faces = []
    for _ in range(JOBS):
        curve = wall(draw.uniform(8, 24), draw.uniform(110, 260), doors=draw.choice((0, 0, 1)))
        shares, _ = face_measured(curve, BOARD_LIMIT_S)
        if shares is not None:
            faces.append(shares)
    yield from summed_up("board plans", "heuristic", faces, JOBS)
    yield from triplet_lines(draw)
    yield from growth_lines()


def triplets(draw: random.Random, sticks: int) -> list[CutPiece]:
    """Pieces of which three fill a stick of 1,000 mm and never two or four: `sticks` is the least there can be.

    Falkenauer, *A hybrid grouping genetic algorithm for bin packing* (1996), the recipe from memory: the first piece
    from 380 to 490, the second from 250 to half of the rest, the third what is left.
    """
    pieces = []
    for number in range(sticks):
        first = draw.randint(380, 490)
        second = draw.randint(250, (1000 - first) // 2)
        pieces += [CutPiece(f"{number}", float(size)) for size in (first, second, 1000 - first - second)]
    return pieces


def triplet_lines(draw: random.Random) -> Iterator[str]:
    yield f"triplets, three pieces a stick by construction, {STICK_LIMIT_S:g} s: sticks over the least there can be"
    for sticks in (10, 20, 40):
        first, best, bound = [], [], []
        for _ in range(TRIPLET_SETS):
            pieces, stocks = triplets(draw, sticks), [Stock("1 m", 1000.0, Decimal(1))]
            first.append(len(plan_cuts(pieces, stocks).sticks) - sticks)
            plan = plan_sticks(pieces, stocks, limit_s=STICK_LIMIT_S, stopwatch=time.process_time)
            best.append(len(plan.sticks) - sticks)
            bound.append(sticks - plan.bound.sticks)
        message = f"first-fit {sum(first) / len(first):.1f}, plan {sum(best) / len(best):.1f}"
        yield f"  {sticks:>4} sticks: {message}, bound below by {sum(bound) / len(bound):.1f}"


def growth_lines() -> Iterator[str]:
    """With the length of a wall, then with the number of walls of a job; drawn in a picture beside the table."""
    yield f"growth with the length: a face of two layers 9 ft high, two doors from 40 ft, {GROWTH_LIMIT_S:g} s, 1 %"
    yield "  feet    heuristic s    plan s    heuristic over bound    plan over bound"
    by_feet = []
    for feet in GROWTH_FEET:
        curve = wall(feet, 400, doors=2 if feet >= 40 else 0)
        began = time.process_time()
        plan_face(curve, "right", LAYERS, studs(curve), starter_standards())
        quick_s = time.process_time() - began
        shares, _ = face_measured(curve, GROWTH_LIMIT_S, gap=0.01)
        by_feet.append((float(feet), quick_s, GROWTH_LIMIT_S if shares is None else shares.seconds))
        yield _growth_row(feet, quick_s, shares)
    yield f"growth with the number: walls of 12 ft, both faces planned together, at most {GROWTH_LIMIT_S:g} s, 1 %"
    yield "  walls   heuristic s    plan s    heuristic over bound    plan over bound"
    by_walls = []
    for count in GROWTH_WALLS:
        quick_s, shares = walls_measured(count)
        by_walls.append((float(count), quick_s, GROWTH_LIMIT_S if shares is None else shares.seconds))
        yield _growth_row(count, quick_s, shares)
    PICTURE.parent.mkdir(parents=True, exist_ok=True)
    PICTURE.write_text(growth_svg((("feet of one wall", by_feet), ("walls of 12 ft", by_walls))), encoding="utf-8")
    yield f"drawn in {PICTURE}"


def _growth_row(size: int, quick_s: float, shares: Shares | None) -> str:
    if shares is None:
        return f"  {size:>5}    {quick_s:>9.2f}    no bound in the time"
    control, plan = 100 * shares.control, 100 * shares.plan
    return f"  {size:>5}    {quick_s:>9.2f}    {shares.seconds:>6.2f}    {control:>18.2f} %    {plan:>13.2f} %"


def walls_measured(count: int) -> tuple[float, Shares | None]:
    faces, quick = [], []
    began = time.process_time()
    for number in range(count):
        curve = wall(12, 150 + 20 * number, doors=0)
        for face in FACES:
            quick.append(plan_face(curve, face, LAYERS, studs(curve), starter_standards(), key=f"wall-{number}"))
            laid = lay_out_face(curve, face, LAYERS, studs(curve), starter_standards(), key=f"wall-{number}")
            assert laid is not None
            faces.append(laid)
    merge(quick)
    quick_s = time.process_time() - began
    began = time.process_time()
    job = prove_job(faces, limit_s=GROWTH_LIMIT_S, gap=0.01, stopwatch=time.process_time)
    took = time.process_time() - began
    if job.bound_cost is None or job.quick_cost is None or job.gap is None:
        return quick_s, None
    return quick_s, Shares(float(job.quick_cost / job.bound_cost) - 1, job.gap, took)


def growth_svg(plots: tuple[tuple[str, list[tuple[float, float, float]]], ...]) -> str:
    """Seconds of the heuristic (dashed) and of the plan (whole line) against the size, side by side."""
    width, height, edge = 320, 220, 40
    parts = []
    for at, (label, points) in enumerate(plots):
        most_x, most_y = max(point[0] for point in points), max(max(point[1:]) for point in points) or 1.0

        def place(x: float, y: float, at: int = at, most_x: float = most_x, most_y: float = most_y) -> str:
            across = at * (width + edge) + edge + (width - edge) * x / most_x
            return f"{across:.1f},{height - edge - (height - 2 * edge) * y / most_y:.1f}"

        for column, dash in ((1, "4 3"), (2, "none")):
            line = " ".join(place(point[0], point[column]) for point in points)
            parts.append(f'<polyline points="{line}" fill="none" stroke="#1d3f72" stroke-dasharray="{dash}"/>')
        axes = " ".join((place(0, most_y), place(0, 0), place(most_x, 0)))
        parts.append(f'<polyline points="{axes}" fill="none" stroke="#555"/>')
        left = at * (width + edge) + edge
        parts.append(f'<text x="{left}" y="{edge - 14}">up to {most_y:.1f} s; dashed: heuristic</text>')
        ticks = ", ".join(f"{point[0]:g}" for point in points)
        parts.append(f'<text x="{left}" y="{height - 12}">{label}: {ticks}</text>')
    size = f'width="{2 * (width + edge)}" height="{height}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} font-family="sans-serif" font-size="12">{"".join(parts)}</svg>'
    )


if __name__ == "__main__":
    for line in plan_lines():
        print(line, flush=True)
