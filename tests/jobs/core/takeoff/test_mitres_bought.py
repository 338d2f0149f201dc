"""At a kink faces, boards and track are laid out and bought to the mitre: lengths of parallels by shapely."""

import math
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString

from jobs.core.measure.survey import HeightProfile, StraightPiece
from jobs.core.takeoff.takeoff import take_off
from jobs.core.takeoff.wall_work_up import WallWorkUp, work_up_wall
from tests.documents import job_file

DAY = date(2026, 11, 25)
IN = 25.4
HIGH = 96 * IN
LEVEL = HeightProfile(((0.0, HIGH),))


def cornered(degrees: float) -> WallWorkUp:
    """The dental screen's build on two straights of 120 and 80 in, 8 ft high, without door and trim."""
    read = job_file("larkmoor-dental")
    pieces = (StraightPiece(120 * IN), StraightPiece(80 * IN, math.radians(degrees)))
    wall = replace(
        read.job.walls[0], pieces=pieces, heights=LEVEL, measured_on="centre", openings=(), trims=(), overrides=()
    )
    return work_up_wall(wall, read.book, DAY, board_rounds=0)


def parallel_mm(wall: WallWorkUp, offset_mm: float) -> float:
    """Length of the parallel mitred at the corner."""
    pieces = wall.curve.pieces
    centre = LineString([pieces[0].start, pieces[1].start, wall.curve.end])
    return centre.offset_curve(offset_mm, join_style="mitre", mitre_limit=100.0).length


def bought(wall: WallWorkUp, key: str) -> float:
    return next(quantity.value for quantity in wall.quantities if quantity.key.endswith(key))


@given(st.floats(-120, 120).filter(lambda degrees: abs(degrees) > 1))
def test_faces_boards_and_track_are_as_long_as_their_mitred_parallels(degrees):
    wall = cornered(degrees)
    framing, thin = wall.curve.stud_depth_mm / 2, 0.25 * IN
    for side, face in ((1, "left"), (-1, "right")):
        finished = parallel_mm(wall, side * (framing + 2 * thin)) * HIGH
        assert wall.finished_area_mm2(face) == pytest.approx(finished, rel=1e-9)
        longer = max(parallel_mm(wall, side * out) for out in (framing, framing + thin))
        assert bought(wall, f"{face}/layer-1/board") * 1e6 == pytest.approx(longer * HIGH, rel=1e-9)
        plan = wall.plan_of(face)
        assert plan is not None
        hung = [piece.width_mm for piece in plan.layers[0].pieces if piece.course == 1]
        assert sum(hung) == pytest.approx(longer, rel=1e-9)
    outer = max(parallel_mm(wall, side * framing) for side in (1, -1))
    assert bought(wall, "track/top") == bought(wall, "track/bottom") == pytest.approx(outer, rel=1e-9)


def test_a_square_corner_buys_what_its_outer_face_gains():
    # Studs 3-5/8 and two layers of 1/4 a face: 2 x 2.3125 = 4-5/8 in of finished face, times 8 ft, over 200 in.
    wall = cornered(90.0)
    assert wall.finished_area_mm2("right") / HIGH / IN == pytest.approx(204.625)
    assert wall.finished_area_mm2("left") / HIGH / IN == pytest.approx(195.375)
    lines = take_off([wall], job_file("larkmoor-dental").book, DAY).lines
    layers = [line.net for line in lines if line.key.endswith("/board") and "/right/" in line.key]
    # Layer 1 to its outer surface 1.8125 + 0.25, layer 2 to 1.8125 + 0.5; both twice, over 8 ft, in sq ft.
    assert [round(layer, 3) for layer in layers] == [Decimal("136.083"), Decimal("136.417")]
