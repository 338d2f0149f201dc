"""Proven board plans: against trying everything, the heuristic as control, and the independent checker."""

import itertools
import math
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.core.boards.board_milp import FaceModel, Levels
from jobs.core.boards.board_optimiser import ProvenFace, prove_face
from jobs.core.boards.boards import BoardError, BoardLayer, Sheet, lay_out_face, plan_face
from jobs.core.cutting.integer_program import Allowance, PlanProgress
from jobs.core.measure.curve import Curve
from jobs.core.measure.survey import ArcPiece, Opening, RadiusAngle, StraightPiece
from tests.jobs.core.boards.test_boards import (
    FOUR_BY_EIGHT,
    FOUR_BY_TWELVE,
    FT,
    IN,
    QUARTER,
    STANDARDS,
    assert_sound,
    column,
    dental,
    least_sheets_by_trying_all,
    studs_of,
    wall,
)

ONE_SIZE = BoardLayer("GB-1/4", 0.25 * IN, "lengthwise", (FOUR_BY_EIGHT,))
PLAIN = Sheet("4x8", 96 * IN, 48 * IN, Decimal(1))


def arc(feet: float, radius_in: float, openings: tuple[Opening, ...] = ()) -> Curve:
    return wall(ArcPiece(RadiusAngle(radius_in * IN, feet * 12 / radius_in), "left"), height=108, openings=openings)


# --- against trying everything ------------------------------------------------------------------------------


@pytest.mark.parametrize(("height", "courses"), [(48, 1), (96, 2)])
@pytest.mark.parametrize(("length", "spacing"), [(88, 20), (112, 24), (128, 20), (136, 24), (150, 20)])
def test_tiny_walls_are_proven_at_what_trying_everything_finds(
    length: float, spacing: float, height: float, courses: int
) -> None:
    # Whole courses: a sheet is one strip, so ripping into strips leaves no way out.
    curve = wall(StraightPiece(length * IN), height=height)
    studs = studs_of(curve, spacing)
    layer = BoardLayer("GB", 12.7, "lengthwise", (PLAIN,))
    face = prove_face(curve, "left", [layer], studs, STANDARDS)
    assert face.plan.cost == face.bound_cost
    assert face.plan.cost == least_sheets_by_trying_all(length * IN, (48 * IN,) * courses, studs, PLAIN)
    assert face.proven


@pytest.mark.parametrize(("length", "spacing"), [(112, 20), (150, 24), (230, 24)])
def test_low_walls_take_two_strips_from_a_sheet(length: float, spacing: float) -> None:
    # One course 24 high: every sheet yields two strips, so half as many sheets as strips tried in every way.
    curve = wall(StraightPiece(length * IN), height=24)
    studs = studs_of(curve, spacing)
    strips = least_sheets_by_trying_all(length * IN, (24 * IN,), studs, PLAIN)
    face = prove_face(curve, "left", [BoardLayer("GB", 12.7, "lengthwise", (PLAIN,))], studs, STANDARDS)
    assert face.plan.cost == face.bound_cost == math.ceil(strips / 2)


# --- plans of the usual sizes -------------------------------------------------------------------------------


@pytest.mark.parametrize("curve", [wall(StraightPiece(20 * FT), height=108), arc(20, 150)], ids=["straight", "arc"])
def test_a_twenty_foot_wall_of_two_layers_is_proven(curve: Curve) -> None:
    layers = [ONE_SIZE, ONE_SIZE]
    studs = studs_of(curve, 8)
    face = prove_face(curve, "right", layers, studs, STANDARDS)
    assert face.proven
    assert face.plan.cost == face.bound_cost
    assert face.plan.bound_cost is not None and face.bound_cost is not None
    assert face.bound_cost > face.plan.bound_cost, "the proven bound says more than the area"
    assert face.working == (
        f"Proven: no plan whose sheets are ripped into strips can cost less than {face.plan.cost}.",
    )
    assert_sound(curve, face.plan, layers, studs)


def test_the_prices_of_the_linear_programme_find_a_cheaper_plan_than_the_heuristic_alone() -> None:
    curve = arc(20, 150)
    studs = studs_of(curve, 8)
    control = plan_face(curve, "right", [QUARTER, QUARTER], studs, STANDARDS)
    face = prove_face(curve, "right", [QUARTER, QUARTER], studs, STANDARDS, gap=0.03)
    assert face.quick_cost == control.cost
    assert face.plan.cost is not None and face.bound_cost is not None and control.cost is not None
    assert face.bound_cost <= face.plan.cost < control.cost
    assert face.gap == pytest.approx(float(face.plan.cost / face.bound_cost) - 1)
    assert_sound(curve, face.plan, [QUARTER, QUARTER], studs)


def test_openings_and_a_closed_column_are_planned_soundly() -> None:
    for curve, spacing in ((dental(), 8), (column(), 6)):
        studs = studs_of(curve, spacing)
        face = prove_face(curve, "left", [QUARTER, QUARTER], studs, STANDARDS, limit_s=2.0, gap=0.06)
        assert_sound(curve, face.plan, [QUARTER, QUARTER], studs)
        assert face.plan.cost is not None and face.quick_cost is not None and face.bound_cost is not None
        assert face.bound_cost <= face.plan.cost <= face.quick_cost


def faults_told(face: ProvenFace) -> set[str]:
    return {finding.key.rsplit("/", 1)[1] for finding in face.plan.findings}


def test_rules_that_cannot_all_be_kept_are_broken_as_little_as_may_be() -> None:
    # Studs 60 in apart under 8 ft sheets: every joint stands on one, so both courses meet at the same studs.
    curve = wall(StraightPiece(180 * IN), height=96)
    studs = [0.0, 60 * IN, 120 * IN, 180 * IN]
    layer = BoardLayer("GB", 12.7, "lengthwise", (PLAIN,))
    face = prove_face(curve, "left", [layer], studs, STANDARDS)
    assert faults_told(face) == {"joint-stagger"}
    assert_sound(curve, face.plan, [layer], studs)
    # By hand: each course needs joints at 60 and 120 (no two bays fit a sheet): three boards of 60 in a course.
    assert len(face.plan.layers[0].pieces) == 6
    assert face.plan.cost == face.bound_cost == 6


def test_without_a_price_the_area_bought_is_made_least() -> None:
    curve = wall(StraightPiece(16 * FT), height=96)
    layer = BoardLayer("GB", 12.7, "lengthwise", (replace(FOUR_BY_EIGHT, price=None),))
    face = prove_face(curve, "left", [layer], studs_of(curve, 16), STANDARDS)
    assert face.bound_cost is face.quick_cost is None
    assert face.gap == 0
    assert face.plan.purchase[0].count == 4  # 16 x 8 ft are four sheets of 4 x 8 by area


def test_a_raked_wall_has_a_bound_below_its_plan() -> None:
    curve = wall(StraightPiece(16 * FT), height=80, top=112)
    studs = studs_of(curve, 16)
    face = prove_face(curve, "left", [ONE_SIZE, ONE_SIZE], studs, STANDARDS, limit_s=3.0)
    assert_sound(curve, face.plan, [ONE_SIZE, ONE_SIZE], studs)
    assert face.bound_cost is not None and face.plan.cost is not None
    assert 0 < face.bound_cost <= face.plan.cost


# --- the programme ------------------------------------------------------------------------------------------


@given(st.lists(st.integers(1, 10_000), min_size=1, max_size=60))
def test_heights_taken_up_and_down_enclose_the_true_ones(heights: list[int]) -> None:
    up, down = Levels.of(heights, up=True), Levels.of(heights, up=False)
    for height in heights:
        assert down.heights[down.level(height)] <= height <= up.heights[up.level(height)]
        if up.exact:
            assert up.heights[up.level(height)] == height
    assert len(up.heights) <= 14


def test_heights_taken_down_never_raise_the_bound() -> None:
    curve = wall(StraightPiece(16 * FT), height=80, top=112)
    laid = lay_out_face(curve, "left", [ONE_SIZE, ONE_SIZE], studs_of(curve, 16), STANDARDS)
    assert laid is not None
    down = FaceModel(laid.searches[0], up=False, faults=0)
    up = FaceModel(laid.searches[0], up=True, faults=0)
    low, high = down.linear(Allowance(20.0)), up.linear(Allowance(20.0))
    assert low is not None and high is not None
    assert not down.exact
    assert 0 < low < high


# --- time, progress, refusals -------------------------------------------------------------------------------


def test_without_time_the_heuristics_plan_comes_back_and_nothing_is_proven() -> None:
    curve = arc(20, 150)
    studs = studs_of(curve, 8)
    face = prove_face(curve, "right", [QUARTER, QUARTER], studs, STANDARDS, limit_s=0.0)
    assert face.plan == plan_face(curve, "right", [QUARTER, QUARTER], studs, STANDARDS)
    assert face.bound_cost is face.gap is None
    assert not face.proven


def test_the_stopwatch_ends_the_search() -> None:
    curve = arc(20, 150)
    ticks = itertools.count(0.0, 6.0)
    face = prove_face(
        curve, "right", [QUARTER, QUARTER], studs_of(curve, 8), STANDARDS, limit_s=10.0, stopwatch=lambda: next(ticks)
    )
    assert face.gap is None


def test_progress_only_improves() -> None:
    progresses: list[PlanProgress] = []
    curve = arc(20, 150)
    prove_face(curve, "right", [QUARTER, QUARTER], studs_of(curve, 8), STANDARDS, gap=0.03, tell=progresses.append)
    weights = [progress.weight for progress in progresses if progress.weight is not None]
    bounds = [progress.bound for progress in progresses if progress.bound is not None]
    assert weights == sorted(weights, reverse=True)
    assert bounds == sorted(bounds)
    assert bounds[-1] <= weights[-1] < weights[0]


def test_what_the_listener_raises_stops_the_planning() -> None:
    def stop(progress: PlanProgress) -> None:
        if progress.doing == "linear programme":
            raise KeyError("lease lost")

    curve = arc(20, 150)
    with pytest.raises(KeyError, match="lease lost"):
        prove_face(curve, "right", [QUARTER, QUARTER], studs_of(curve, 8), STANDARDS, tell=stop)


def test_the_same_input_gives_the_same_plan() -> None:
    curve = arc(20, 150)
    studs = studs_of(curve, 8)
    face, other = (prove_face(curve, "right", [ONE_SIZE, ONE_SIZE], studs, STANDARDS) for _ in range(2))
    assert face == other


def test_without_layers_there_is_nothing_to_prove() -> None:
    curve = wall(StraightPiece(8 * FT))
    face = prove_face(curve, "left", [], studs_of(curve, 16), STANDARDS)
    assert face.plan.layers == ()
    assert face.bound_cost is None


@pytest.mark.parametrize(("limit_s", "gap"), [(-1.0, 0.0), (math.nan, 0.0), (5.0, -0.1), (5.0, math.inf)])
def test_impossible_limits_are_refused(limit_s: float, gap: float) -> None:
    curve = wall(StraightPiece(8 * FT))
    with pytest.raises(BoardError, match="must be a number, zero or more"):
        prove_face(curve, "left", [ONE_SIZE, ONE_SIZE], studs_of(curve, 16), STANDARDS, limit_s=limit_s, gap=gap)


# --- generated walls ----------------------------------------------------------------------------------------


@given(
    st.integers(60, 160),
    st.integers(50, 200),
    st.sampled_from([72, 96, 108, 115]),
    st.none() | st.integers(70, 120),
    st.sampled_from([6.0, 8.0, 16.0]),
    st.sampled_from(["lengthwise", "widthwise"]),
)
@settings(max_examples=12, deadline=None)
def test_every_plan_is_sound_and_lies_between_its_bound_and_the_heuristic(
    length: int, radius: int, height: float, top: float | None, spacing: float, direction: str
) -> None:
    curve = wall(ArcPiece(RadiusAngle(radius * IN, length / radius), "right"), height=height, top=top)
    layers = [BoardLayer("GB", 6.35, direction, (FOUR_BY_EIGHT, FOUR_BY_TWELVE)) for _ in range(2)]  # type: ignore[arg-type]
    studs = studs_of(curve, spacing)
    face = prove_face(curve, "left", layers, studs, STANDARDS, limit_s=0.7, gap=0.05)
    control = plan_face(curve, "left", layers, studs, STANDARDS)
    assert_sound(curve, face.plan, layers, studs)
    assert face.plan.cost is not None and control.cost is not None
    assert len(face.plan.findings) <= len(control.findings)
    if not control.findings:
        assert face.plan.cost <= control.cost
    if face.bound_cost is not None:
        assert 0 < face.bound_cost <= face.plan.cost
