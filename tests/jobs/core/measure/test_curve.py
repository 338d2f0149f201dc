import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from jobs.core.measure.curve import crossing_of, curve_of, resolve_line
from jobs.core.measure.survey import (
    LINES,
    ArcPiece,
    ChordRise,
    HeightProfile,
    Opening,
    RadiusAngle,
    StraightPiece,
    Survey,
    SurveyError,
)
from tests.jobs.core.walls import IN, boutique, childcare, column, dental, library, on_line

SQFT = 92903.04
LEVEL = HeightProfile(((0.0, 2743.2),))


def bare(*pieces, on="centre", depth=92.0, left=12.7, right=12.7, openings=(), heights=LEVEL):
    return curve_of(Survey(tuple(pieces), heights, on, depth, left, right, tuple(openings)))


def arc(radius, degrees, turn="left", **more):
    return ArcPiece(RadiusAngle(radius, math.radians(degrees)), turn, **more)


# Route-curve and simple-curve problems, in their own units.


def test_eight_degree_curve_of_25_30_deflection():
    # Route-curve worked solution; 1 degree of curve = 5729.578 ft (US Army FM 5-430-00-1, App. F).
    radius = 5729.578 / 8
    curve = bare(arc(radius, 25.5), depth=1.0, left=0.0, right=0.0)
    assert radius == pytest.approx(716.20, abs=0.01)
    assert curve.centre_length_mm == pytest.approx(318.75, abs=0.01)
    x, y = curve.end
    assert x - y / math.tan(math.radians(25.5)) == pytest.approx(162.06, abs=0.01)


def test_curve_of_radius_311_and_26_degrees():
    # Simple-curve sample problem: long chord 139.92, arc 141.13.
    curve = bare(arc(311.0, 26), depth=1.0, left=0.0, right=0.0)
    assert math.hypot(*curve.end) == pytest.approx(139.92, abs=0.01)
    assert curve.centre_length_mm == pytest.approx(141.13, abs=0.01)


def test_segment_of_radius_12_and_rise_2():
    # Machinery's Handbook 31, p. 50: chord 13.27, arc 14.06, segment area 18.01. Area by shapely.
    sweep = 2 * math.acos(10 / 12)
    curve = bare(ArcPiece(RadiusAngle(12.0, sweep), "left"), depth=1.0, left=0.0, right=0.0)
    points = [curve.pieces[0].point_at(n / 2000) for n in range(2001)]
    assert math.dist(points[0], points[-1]) == pytest.approx(13.27, abs=0.01)
    assert curve.centre_length_mm == pytest.approx(14.06, abs=0.01)
    assert Polygon(points).area == pytest.approx(18.01, abs=0.01)


def test_radius_60_and_rise_8_span_a_chord_of_59_86():
    # Machinery's Handbook 31, p. 79.
    sweep = 2 * math.acos(52 / 60)
    curve = bare(ArcPiece(RadiusAngle(60.0, sweep), "left"), depth=1.0, left=0.0, right=0.0)
    assert math.hypot(*curve.end) == pytest.approx(59.86, abs=0.01)


# The invented walls; figures from the written examples, inches to the digits given there.


def test_dental_four_lengths_radius_and_sweep():
    curve, _ = dental()
    assert curve.pieces[0].radius_at(curve.offset_mm("right_framing")) / IN == pytest.approx(132.600, abs=5e-4)
    assert math.degrees(curve.pieces[0].sweep_rad) == pytest.approx(78.615, abs=5e-4)
    assert on_line(curve, "right_framing") == pytest.approx(181.940, abs=5e-4)
    assert on_line(curve, "right_finished") == pytest.approx(182.626, abs=5e-4)
    assert on_line(curve, "left_framing") == pytest.approx(176.966, abs=5e-4)
    assert on_line(curve, "left_finished") == pytest.approx(176.280, abs=5e-4)


def test_dental_opening_takes_38_646_out_of_the_concave_face_and_bulges_1_40():
    curve, _ = dental()
    door = curve.openings[0]
    assert door.taken_mm["left_finished"] / IN == pytest.approx(38.646, abs=1e-3)
    assert door.bulge_mm / IN == pytest.approx(1.40, abs=5e-3)


def test_dental_net_areas():
    curve, _ = dental()
    assert curve.net_area_mm2("right_finished") / SQFT == pytest.approx(114.70, abs=5e-3)
    assert curve.net_area_mm2("left_finished") / SQFT == pytest.approx(109.94, abs=5e-3)


def test_boutique_lengths_areas_and_end():
    curve, _ = boutique()
    assert [p.length_mm / IN for p in curve.pieces] == pytest.approx([117.286, 69.115, 44.0], abs=5e-4)
    assert curve.centre_length_mm / IN == pytest.approx(230.401, abs=5e-4)
    assert on_line(curve, "right_finished") == pytest.approx(231.007, abs=5e-4)
    assert on_line(curve, "left_finished") == pytest.approx(229.796, abs=5e-4)
    assert curve.gross_area_mm2("right_finished") / SQFT == pytest.approx(192.51, abs=5e-3)
    assert curve.gross_area_mm2("left_finished") / SQFT == pytest.approx(191.50, abs=5e-3)
    assert [c / IN for c in curve.end] == pytest.approx([181.734, 119.475], abs=5e-4)
    assert math.degrees(curve.end_heading_rad) == pytest.approx(15.0, abs=1e-9)


CHILDCARE_ARCS = [
    (109.00, 66.797, (127.075, 127.658, 124.161, 123.578)),
    (60.00, 106.260, (111.275, 112.203, 106.639, 105.712)),
    (139.60, 62.096, (151.297, 151.839, 148.587, 148.045)),
]


@pytest.mark.parametrize(("number", "expected"), list(enumerate(CHILDCARE_ARCS)))
def test_childcare_arcs(number, expected):
    radius, degrees, lengths = expected
    curve, _ = childcare(number)
    assert curve.pieces[0].radius_at(curve.offset_mm("right_framing")) / IN == pytest.approx(radius, abs=5e-3)
    assert math.degrees(curve.pieces[0].sweep_rad) == pytest.approx(degrees, abs=5e-4)
    lines = ("right_framing", "right_finished", "left_framing", "left_finished")
    assert [on_line(curve, line) for line in lines] == pytest.approx(lengths, abs=6e-4)


def test_library_framing_faces_and_concave_area():
    curve, _ = library()
    piece = curve.pieces[0]
    assert piece.radius_at(curve.offset_mm("left_framing")) / IN == pytest.approx(60.5, abs=1e-9)
    assert piece.radius_at(curve.offset_mm("right_framing")) / IN == pytest.approx(64.125, abs=1e-9)
    assert on_line(curve, "left_framing") == pytest.approx(190.07, abs=5e-3)
    # 64.125 pi is 201.4546; the written figure rounds it up.
    assert on_line(curve, "right_framing") == pytest.approx(201.46, abs=6e-3)
    assert curve.net_area_mm2("left_finished") / SQFT == pytest.approx(137.44, abs=5e-3)


# Geometry that holds for every wall; more of it on generated walls in test_generated_walls.py.

radii = st.floats(300.0, 1e5)
sweeps = st.floats(1e-3, 6.2)
turns = st.sampled_from(["left", "right"])
arcs = st.builds(lambda r, s, t: ArcPiece(RadiusAngle(r, s), t), radii, sweeps, turns)
straights = st.builds(StraightPiece, st.floats(1.0, 1e5))
chains = st.lists(arcs | straights, min_size=1, max_size=5)


@given(chains)
def test_finished_faces_differ_by_thickness_times_the_net_turn(pieces):
    # Parallel curves: the right line is longer by thickness x (turn to the left), whatever the radii.
    curve = bare(*pieces)
    turned = sum(p.turn * p.sweep_rad for p in curve.pieces)
    difference = curve.length_mm("right_finished") - curve.length_mm("left_finished")
    assert difference == pytest.approx((92.0 + 25.4) * turned, rel=1e-9, abs=1e-6)


@given(arcs, st.sampled_from(["left_finished", "left_framing", "right_framing", "right_finished"]))
def test_moving_the_measured_line_by_t_moves_the_radius_by_t(piece, line):
    on_centre = bare(piece).pieces[0].radius_mm
    moved = bare(piece, on=line)
    turn = moved.pieces[0].turn
    assert moved.pieces[0].radius_mm - on_centre == pytest.approx(turn * moved.offset_mm(line), abs=1e-9)


def test_switching_framing_to_finished_moves_the_radius_by_exactly_the_build_up():
    framing = bare(arc(2000.0, 40), on="convex_framing").pieces[0].radius_mm
    finished = bare(arc(2000.0, 40), on="convex_finished").pieces[0].radius_mm
    assert framing - finished == pytest.approx(12.7, abs=1e-9)


@given(chains)
def test_places_on_a_line_go_there_and_back(pieces):
    curve = bare(*pieces)
    for line in LINES:
        for share in (0.0, 0.2, 0.55, 1.0):
            along = curve.centre_length_mm * share
            there = curve.developed_mm(line, along)
            assert curve.centre_mm_of(line, there) == pytest.approx(along, rel=1e-9, abs=1e-5)


@given(arcs, st.floats(0.0, 1.0))
def test_points_abreast_are_square_to_the_walk_and_offset_apart(piece, share):
    curve = bare(piece)
    along = curve.centre_length_mm * share
    centre, left = curve.point_at(along), curve.point_at(along, "left_finished")
    assert math.dist(centre, left) == pytest.approx(curve.offset_mm("left_finished"), rel=1e-6)
    heading = curve.heading_at(along)
    assert (left[0] - centre[0]) * math.cos(heading) + (left[1] - centre[1]) * math.sin(heading) == pytest.approx(
        0.0, abs=1e-4
    )


def polyline(curve, line="centre", steps=4000):
    points = []
    for piece in curve.pieces:
        points += [piece.point_at(n / steps, curve.offset_mm(line)) for n in range(steps + 1)]
    return points


@settings(max_examples=25, deadline=None)
@given(st.floats(400.0, 5000.0), st.floats(0.1, 3.0), turns, st.floats(200.0, 2000.0))
def test_lengths_and_offsets_agree_with_shapely(radius, sweep, turn, straight):
    curve = bare(ArcPiece(RadiusAngle(radius, sweep), turn), StraightPiece(straight))
    centre = LineString(polyline(curve, steps=300))
    assert centre.length == pytest.approx(curve.centre_length_mm, rel=1e-4)
    for line in ("left_finished", "left_framing", "right_framing", "right_finished"):
        beside = centre.offset_curve(curve.offset_mm(line), quad_segs=64, join_style="mitre")
        assert beside.length == pytest.approx(curve.length_mm(line), rel=5e-4)
        assert LineString(polyline(curve, line, 300)).hausdorff_distance(beside) < 0.5


def test_the_boutique_agrees_with_shapely_on_both_faces():
    curve, _ = boutique()
    centre = LineString(polyline(curve))
    for line in ("left_finished", "right_finished"):
        beside = centre.offset_curve(curve.offset_mm(line), quad_segs=64, join_style="mitre")
        assert beside.length == pytest.approx(curve.length_mm(line), rel=1e-4)


def test_a_round_column_closes():
    curve, _ = column()
    assert curve.is_closed
    assert not dental()[0].is_closed


def test_a_kink_turns_the_walk():
    curve = bare(StraightPiece(1000.0), StraightPiece(1000.0, kink_rad=math.pi / 2))
    assert curve.end == pytest.approx((1000.0, 1000.0), abs=1e-6)
    assert curve.joints[0].kink_rad == math.pi / 2


@pytest.mark.parametrize(("turn", "line"), [(1, "right_framing"), (-1, "left_framing"), (0, "right_framing")])
def test_the_convex_side_changes_with_the_turn(turn, line):
    assert resolve_line("convex_framing", turn) == line


# What cannot be.


def test_a_wall_thicker_than_its_radius_is_refused():
    with pytest.raises(SurveyError, match="no radius left") as refused:
        bare(arc(50.0, 90), on="convex_finished")
    assert refused.value.field == "pieces[0].radius"


def test_an_arc_without_a_side_is_refused():
    with pytest.raises(SurveyError, match="left or right") as refused:
        bare(ArcPiece(ChordRise(1000.0, 100.0)))
    assert refused.value.field == "pieces[0].turn"


def test_an_opening_beyond_the_wall_is_refused():
    with pytest.raises(SurveyError, match="along a line only") as refused:
        bare(StraightPiece(1000.0), openings=[Opening("Door", 1500.0, 900.0, 2000.0)])
    assert refused.value.field == "openings[0].centre_at"


def test_an_opening_must_have_room_on_the_tighter_face_as_well():
    # Flat frame 900 at 1000 mm radius: the concave finished face (941.3) needs 57.12 degrees for it,
    # the centreline 53.49; an arc of 55 degrees holds the one and not the other.
    door = Opening("Door", 1000.0 * math.radians(55) / 2, 900.0, 2000.0)
    with pytest.raises(SurveyError, match="within one piece"):
        bare(arc(1000.0, 55), openings=[door])
    assert bare(arc(1000.0, 58), openings=[Opening("Door", 1000.0 * math.radians(29), 900.0, 2000.0)]).openings


def test_openings_that_meet_only_on_the_tighter_face_overlap():
    half = math.asin(450 / 1000)
    doors = [Opening("A", 1000 * 1.0, 900.0, 2000.0), Opening("B", 1000 * (1.0 + 2 * half), 900.0, 2000.0)]
    with pytest.raises(SurveyError, match="B overlaps A"):
        bare(arc(1000.0, 150), openings=doors)


def test_an_opening_under_a_dip_of_the_ceiling_is_refused():
    dip = HeightProfile(((0.0, 2400.0), (1000.0, 1900.0), (2000.0, 2400.0)))
    with pytest.raises(SurveyError, match="above the ceiling") as refused:
        bare(StraightPiece(2000.0), heights=dip, openings=[Opening("Door", 1000.0, 900.0, 2000.0)])
    assert refused.value.field == "openings[0].height"


def test_an_opening_may_stand_beside_a_step_of_the_ceiling():
    step = HeightProfile(((0.0, 2400.0), (1450.0, 2400.0), (1450.0, 1900.0), (2000.0, 1900.0)))
    assert bare(StraightPiece(2000.0), heights=step, openings=[Opening("Door", 1000.0, 900.0, 2000.0)]).openings


def test_a_radial_opening_takes_its_share_of_every_line():
    curve = bare(arc(1000.0, 120), openings=[Opening("Arch", 1000.0, 500.0, 2000.0, frame="radial")])
    door = curve.openings[0]
    for line in LINES:
        assert door.taken_mm[line] == pytest.approx(0.5 * curve.pieces[0].radius_at(curve.offset_mm(line)))
    assert door.bulge_mm == 0.0


# Heights within the wall.


def test_heights_measured_beyond_the_end_are_no_part_of_the_wall():
    # Rising 8 in per 60 in from 96 in: 101.5 in at the end of a wall of 41.25 in, and 140 in only far beyond it.
    heights = HeightProfile(((0.0, 96 * IN), (330 * IN, 140 * IN)))
    curve = bare(StraightPiece(41.25 * IN), heights=heights)
    assert (curve.least_height_mm / IN, curve.greatest_height_mm / IN) == pytest.approx((96, 101.5))


def test_a_step_at_the_end_belongs_to_what_comes_after_the_wall():
    heights = HeightProfile(((0.0, 2400.0), (1000.0, 2500.0), (1000.0, 3000.0), (2000.0, 3000.0)))
    assert bare(StraightPiece(1000.0), heights=heights).greatest_height_mm == 2500.0
    assert bare(StraightPiece(1000.5), heights=heights).greatest_height_mm == 3000.0


@given(
    st.lists(st.tuples(st.floats(0, 5000), st.floats(1000, 4000)), min_size=1, max_size=6),
    st.floats(100, 5000),
    st.floats(0, 1),
)
def test_every_height_of_the_wall_lies_between_its_least_and_greatest(stations, length, share):
    curve = bare(StraightPiece(length), heights=HeightProfile(tuple(sorted(stations))))
    at = curve.heights.at(length * share * (1 - 1e-9))
    assert curve.least_height_mm - 1e-3 <= at <= curve.greatest_height_mm + 1e-3


# Kinks: faces run to the joint of the centrelines; mitred faces by shapely.


@pytest.mark.parametrize("degrees", [-120.0, -45.0, 10.0, 90.0])
def test_a_mitred_face_differs_by_twice_the_offset_times_the_tangent_of_half_the_kink(degrees):
    curve = bare(StraightPiece(3000.0), StraightPiece(2000.0, kink_rad=math.radians(degrees)))
    centre = LineString([curve.pieces[0].start, curve.pieces[1].start, curve.end])
    for line in ("left_finished", "right_finished"):
        mitred = centre.offset_curve(curve.offset_mm(line), join_style="mitre", mitre_limit=100.0)
        (kink,) = curve.kinks
        assert curve.length_mm(line) + curve.mitre_mm(line, kink.kink_rad) == pytest.approx(mitred.length, abs=1e-6)


def test_a_closed_square_kinks_at_its_seam_as_at_its_other_corners():
    quarter = math.pi / 2
    curve = bare(StraightPiece(1000.0), *[StraightPiece(1000.0, kink_rad=quarter)] * 3)
    assert [joint.kink_rad for joint in curve.kinks] == pytest.approx([quarter] * 4)
    assert curve.kinks[-1].at_mm == pytest.approx(4000.0)


def test_a_column_and_an_s_curve_have_no_kinks():
    assert column()[0].kinks == boutique()[0].kinks == ()


# Walls that run into themselves, by shapely.


def test_a_straight_after_nearly_a_circle_crosses_its_beginning():
    curve = bare(arc(50 * IN, 350), StraightPiece(100 * IN))
    first, second = crossing_of(curve)
    # Its end is 10 degrees short of the start: the straight reaches the first stretch of the arc after about
    # R tan(5 degrees), 4.4 in; half a wall's thickness, on a slant, either way.
    assert first < 20 * IN
    assert second == pytest.approx(curve.pieces[1].start_mm + 4.4 * IN, abs=50 * IN)


def test_half_circle_column_screen_and_s_curve_do_not_cross():
    for curve, _ in (dental(), boutique(), library(), column(), column(radius=6.0)):
        assert crossing_of(curve) is None


@pytest.mark.parametrize("degrees", [-150, -60, 1, 30, 90, 150])
def test_faces_that_meet_unmitred_at_a_kink_are_no_crossing(degrees):
    kink = math.radians(degrees)
    assert crossing_of(bare(StraightPiece(3000.0), StraightPiece(3000.0, kink_rad=kink))) is None
    assert crossing_of(bare(arc(2000.0, 40), arc(1500.0, 40, "right", kink_rad=kink))) is None


def test_a_closed_polygon_is_no_crossing_and_one_corner_more_is():
    sixth = math.pi / 3
    sides = [StraightPiece(1500.0), *[StraightPiece(1500.0, kink_rad=sixth)] * 5]
    assert crossing_of(bare(*sides)) is None
    across = StraightPiece(2500.0, kink_rad=math.radians(100))
    assert crossing_of(bare(*sides, across)) is not None


def test_a_wall_whose_end_only_pushes_into_its_own_side_crosses_it():
    quarter = math.pi / 2
    square = [StraightPiece(2000.0), *[StraightPiece(2000.0, kink_rad=quarter)] * 2]
    clear, into = (bare(*square, StraightPiece(length, kink_rad=quarter)) for length in (1900.0, 1960.0))
    # The side it runs at is 58.7 mm of half wall away from its centreline: 1941.3 mm is all there is.
    assert crossing_of(clear) is None
    assert crossing_of(into) is not None


def outline_of(curve, half_mm):
    # A joint's point once: twice, a rounding apart, shapely takes it for a crossing of its own.
    left, right = (
        [p.point_at(n / 300, side) for p in curve.pieces for n in range(1 if p.index else 0, 301)]
        for side in (half_mm, -half_mm)
    )
    return Polygon([*left, *reversed(right)])


@settings(max_examples=150)
@given(st.lists(st.tuples(st.floats(300, 2500), st.floats(20, 320), st.booleans()), min_size=1, max_size=4))
def test_smooth_chains_cross_where_shapely_says_so(chain):
    curve = bare(*(arc(radius, degrees, "left" if left else "right") for radius, degrees, left in chain))
    half = curve.offset_mm("left_finished")
    # Chords stand up to a millimetre off their arcs: walls that graze are left to either answer.
    fat, plain, thin = (outline_of(curve, half + more).is_valid for more in (3.0, 0.0, -3.0))
    assume(fat == plain == thin and not curve.is_closed)
    assert (crossing_of(curve) is None) == plain
