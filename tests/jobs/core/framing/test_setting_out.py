"""Setting-out figures against the circles themselves, handbook figures, shapely and scipy."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import fsolve
from shapely.geometry import LineString, Point

from catalog.core.materials.standards import starter_standards
from jobs.core.framing.framing import add_sheet_end_studs, frame
from jobs.core.framing.setting_out import (
    centre_ties,
    check_diagonals,
    laser_marks,
    offsets_from_baseline,
    ordinates_from_chord,
    stud_marks,
)
from jobs.core.measure.curve import curve_of
from jobs.core.measure.survey import (
    LINES,
    ArcPiece,
    HeightProfile,
    RadiusAngle,
    StraightPiece,
    Survey,
    SurveyError,
)
from tests.jobs.core.walls import IN, boutique, catalog, childcare, column, dental, inches, library, material

LEVEL = HeightProfile(((0.0, 2400.0),))
THOUSANDTH = 0.001


def arc(radius, degrees, turn="left", kink=0.0):
    return ArcPiece(RadiusAngle(radius, math.radians(degrees)), turn, None, math.radians(kink))


def bare(*pieces, depth=92.0):
    return curve_of(Survey(tuple(pieces), LEVEL, "centre", depth, 12.7, 12.7))


def set_out(table):
    """The points a carpenter marks: along the chord, then square to it on the side named."""
    (x0, y0), (x1, y1) = table.start, table.end
    ux, uy = (x1 - x0) / table.chord_mm, (y1 - y0) / table.chord_mm
    hand = 1 if table.side == "left" else -1
    return [
        (x0 + row.along_mm * ux - hand * row.ordinate_mm * uy, y0 + row.along_mm * uy + hand * row.ordinate_mm * ux)
        for row in table.rows
    ]


def centre_of(piece):
    a = piece.heading_rad + piece.turn * math.pi / 2
    return piece.start[0] + piece.radius_mm * math.cos(a), piece.start[1] + piece.radius_mm * math.sin(a)


def line_of(curve, line, count=4000):
    """The line as a fine polyline, for shapely."""
    offset = curve.offset_mm(line)
    return LineString([p.point_at(n / count, offset) for p in curve.pieces for n in range(count + 1)])


# Ordinates from a chord.


def test_radius_60_and_rise_8_stand_on_a_chord_of_59_86():
    # Machinery's Handbook 31, p. 79.
    table = ordinates_from_chord(bare(arc(60.0, math.degrees(2 * math.acos(52 / 60))), depth=0.1), 0, "centre", 5.0)[0]
    assert table.chord_mm == pytest.approx(59.86, abs=0.01)
    assert max(row.ordinate_mm for row in table.rows) == pytest.approx(8.0, abs=1e-9)


def test_the_dental_screen_gives_back_its_own_chord_and_rise():
    curve, _ = dental()
    (table,) = ordinates_from_chord(curve, 0, "right_framing", 12 * IN)
    assert (table.chord_mm / IN, table.rise_mm / IN) == (pytest.approx(168.0), pytest.approx(30.0))
    assert [round(row.along_mm / IN) for row in table.rows] == [12 * n for n in range(15)]
    # By hand: sqrt(132.6^2 - 60^2) - (132.6 - 30) at 24 in from the end.
    assert table.rows[2].ordinate_mm / IN == pytest.approx(math.sqrt(132.6**2 - 60**2) - 102.6, abs=1e-9)


@pytest.mark.parametrize("wall", [dental, boutique, library, column, lambda: childcare(1)])
@pytest.mark.parametrize("line", LINES)
def test_marked_ordinates_lie_on_the_circle_of_their_line_to_a_thousandth(wall, line):
    curve, _ = wall()
    for piece in (p for p in curve.pieces if p.is_arc):
        for table in ordinates_from_chord(curve, piece.index, line, 7 * IN):
            assert len(table.rows) >= 3
            for point in set_out(table):
                off = math.dist(point, centre_of(piece)) - piece.radius_at(curve.offset_mm(line))
                assert abs(off) < THOUSANDTH


@given(st.floats(300, 1e6), st.floats(0.01, 6.2), st.sampled_from(("left", "right")), st.floats(0.01, 0.6))
def test_any_arc_is_set_out_to_a_thousandth_and_from_end_to_end(radius, sweep, turn, step):
    curve = bare(arc(radius, math.degrees(sweep), turn))
    piece = curve.pieces[0]
    tables = ordinates_from_chord(curve, 0, "left_framing", radius * min(sweep, math.pi) * step)
    assert len(tables) == (2 if sweep > math.pi + 1e-9 else 1)
    offset = curve.offset_mm("left_framing")
    own = piece.radius_at(offset)
    middles = [piece.point_at((2 * n + 1) / (2 * len(tables)), offset) for n in range(len(tables))]
    for table, middle in zip(tables, middles, strict=True):
        points = set_out(table)
        assert all(abs(math.dist(p, centre_of(piece)) - own) < THOUSANDTH for p in points)
        assert points[0] == pytest.approx(table.start, abs=THOUSANDTH)
        assert points[-1] == pytest.approx(table.end, abs=THOUSANDTH)
        # On the arc's own side of the chord, not the rest of the circle.
        assert min(math.dist(p, middle) for p in points) < THOUSANDTH


@pytest.mark.parametrize(
    ("index", "interval", "field", "words"),
    [
        (2, 100.0, "piece", "piece 3 is straight"),
        (7, 100.0, "piece", "has 3 pieces; there is no piece 8"),
        (0, 0.0, "interval", "more than zero; 0 mm"),
        (0, float("nan"), "interval", "nan mm"),
        (0, 0.5, "interval", "over 2000 rows"),
    ],
)
def test_ordinates_that_cannot_be_are_refused(index, interval, field, words):
    curve, _ = boutique()
    with pytest.raises(SurveyError, match=words) as refused:
        ordinates_from_chord(curve, index, "centre", interval)
    assert refused.value.field == field


# Offsets from a straight baseline.


@pytest.mark.parametrize("wall", [dental, boutique, library])
@pytest.mark.parametrize("line", LINES)
def test_baseline_offsets_lie_on_the_wall_by_shapely(wall, line):
    curve, _ = wall()
    whole, base = line_of(curve, line), ((0.0, 0.0), (1000.0, 0.0))
    rows = offsets_from_baseline(curve, line, 6 * IN, base)
    assert max(whole.distance(Point(row.along_mm, row.offset_mm)) for row in rows) < THOUSANDTH
    # Every crossing at every interval is there: as many as shapely finds on the polyline.
    west, south, east, north = whole.bounds
    result = 0
    for step in range(math.ceil((west + 1) / (6 * IN)), math.floor((east - 1) / (6 * IN)) + 1):
        upright = LineString([(step * 6 * IN, south - 1), (step * 6 * IN, north + 1)])
        crossing = whole.intersection(upright)
        result += len(getattr(crossing, "geoms", [crossing]))
    ours = [r for r in rows if abs(r.along_mm / (6 * IN) - round(r.along_mm / (6 * IN))) < 1e-9]
    ours = [r for r in ours if west + 1 <= r.along_mm <= east - 1]
    assert len(ours) == result


def test_the_boutique_baseline_from_its_start_reaches_its_end():
    # Worked example: from origin heading +x, end (181.734, 119.475).
    curve, _ = boutique()
    last = offsets_from_baseline(curve, "centre", 12 * IN, ((0.0, 0.0), (100.0, 0.0)))[-1]
    assert (last.along_mm / IN, last.offset_mm / IN) == pytest.approx((181.734, 119.475), abs=5e-4)
    assert last.on_line_mm / IN == pytest.approx(230.401, abs=5e-4)


def test_offsets_taken_from_the_ends_start_and_end_on_the_baseline():
    curve, _ = boutique()
    rows = offsets_from_baseline(curve, "right_framing", 12 * IN)
    assert rows[0].offset_mm == pytest.approx(0.0, abs=1e-9)
    assert rows[-1].offset_mm == pytest.approx(0.0, abs=1e-9)
    assert sum(row.joint for row in rows) == 4


def test_a_wall_that_folds_back_is_crossed_twice_at_one_place():
    # Three quarters of a circle of radius 1000 from the origin along +x: at x = 500 it is crossed on both sides.
    rows = offsets_from_baseline(bare(arc(1000.0, 270)), "centre", 500.0, ((0.0, 0.0), (1000.0, 0.0)))
    at_500 = [row.offset_mm for row in rows if abs(row.along_mm - 500) < 1e-6]
    assert at_500 == pytest.approx([1000 - math.sqrt(750_000), 1000 + math.sqrt(750_000)])


def test_both_points_of_a_kink_are_marked_off_the_centreline():
    curve = bare(StraightPiece(1000.0), StraightPiece(1000.0, math.radians(30)))
    assert sum(r.joint for r in offsets_from_baseline(curve, "left_framing", 5000.0)) == 4
    assert sum(r.joint for r in offsets_from_baseline(curve, "centre", 5000.0)) == 3


def test_a_closed_column_needs_a_baseline_of_its_own():
    curve, _ = column()
    with pytest.raises(SurveyError, match="name two fixed points"):
        offsets_from_baseline(curve, "centre", 100.0)
    assert len(offsets_from_baseline(curve, "centre", 100.0, ((-800.0, 0.0), (800.0, 0.0)))) > 20


# The centre by two tapes.


def test_two_tapes_meet_at_the_centre_by_scipy():
    curve, _ = boutique()
    first, second = (-500.0, -200.0), (4000.0, -300.0)
    ties = centre_ties(curve, 1, first, second)

    def tapes(p):
        return [math.dist(p, first) - ties.from_first_mm, math.dist(p, second) - ties.from_second_mm]

    # Two tapes meet on either side; the guess stands on the side that is named.
    guess = (2000.0, 2000.0 if ties.side == "left" else -2000.0)
    met = fsolve(tapes, guess, xtol=1e-12)
    assert tuple(met) == pytest.approx(ties.centre, abs=1e-6)
    assert math.dist(met, curve.pieces[1].point_at(0.4)) == pytest.approx(72 * IN, abs=1e-6)


def test_every_line_is_swung_from_the_one_centre():
    # Worked example, library: concave finished 60, framing 60.5 and 64.125.
    curve, _ = library()
    radii = dict(centre_ties(curve, 0, (0.0, -1000.0), (1000.0, 0.0)).radii_mm)
    assert radii["left_finished"] / IN == pytest.approx(60.0)
    assert radii["left_framing"] / IN == pytest.approx(60.5)
    assert radii["right_framing"] / IN == pytest.approx(64.125)


def test_a_half_circle_from_its_own_ends_is_a_poor_crossing():
    curve, _ = library()
    assert not centre_ties(curve, 0).is_good
    assert centre_ties(curve, 0, (0.0, 0.0), curve.pieces[0].point_at(0.5)).is_good


def test_one_fixed_point_is_not_two():
    curve, _ = dental()
    with pytest.raises(SurveyError, match="two fixed points apart"):
        centre_ties(curve, 0, (5.0, 5.0), (5.0, 5.0))


# Stud marks.


def framed(wall_of, pitch=None, **more):
    curve, wall = wall_of(**more)
    track = material("TRACK", "track", "ft", link_pitch_mm=inches(pitch)) if pitch else material("TRACK", "track", "ft")
    return frame(curve, wall, catalog(track), starter_standards())


def test_studs_stand_on_whole_links_along_the_convex_edge():
    marks = stud_marks(framed(dental, pitch=2, openings=()), 2 * IN)
    # 8 in bays of four 2 in links; 181.94 in in 23 bays: 24 stations, as in the worked example.
    assert [mark.links for mark in marks] == [*range(0, 92, 4), 90]
    assert [round(mark.right_mm / IN, 6) for mark in marks[:4]] == [0, 8, 16, 24]
    # On the concave edge the tape runs short by the ratio of the radii, 128.975 to 132.6.
    assert marks[5].left_mm / marks[5].right_mm == pytest.approx(128.975 / 132.6, rel=1e-9)
    assert marks[-1].right_mm / IN == pytest.approx(181.940, abs=5e-4)
    assert marks[-1].left_mm / IN == pytest.approx(176.966, abs=5e-4)
    assert all(mark.past_link_mm < 1e-6 for mark in marks[:-1])
    assert marks[-1].past_link_mm / IN == pytest.approx(1.940, abs=5e-4)


def test_marks_on_the_bottom_track_start_anew_behind_a_door():
    marks = stud_marks(framed(dental))
    runs = [mark.bottom_run for mark in marks]
    assert set(runs) == {1, 2, None}
    jambs = [mark for mark in marks if mark.members[0].kind == "jamb"]
    assert [jamb.bottom_run for jamb in jambs] == [1, 2]
    assert jambs[1].bottom_right_mm == jambs[1].bottom_left_mm == 0.0
    # Worked example: the flat door takes 38.64 in (2 R asin(w / 2R), R 132.6) out of the convex framing edge.
    taken = 2 * 132.6 * math.asin(38.5 / 2 / 132.6)
    assert (jambs[1].right_mm - jambs[0].right_mm) / IN == pytest.approx(taken, abs=1e-9)
    taken = 2 * 128.975 * math.asin(38.5 / 2 / 128.975)
    assert (jambs[1].left_mm - jambs[0].left_mm) / IN == pytest.approx(taken, abs=1e-9)
    # Both lengths of bottom track end where the worked example's 143.30 in says.
    ends = [max(m.bottom_right_mm for m in marks if m.bottom_run == run) for run in (1, 2)]
    assert sum(ends) / IN == pytest.approx(143.30, abs=0.01)


def test_a_stud_and_the_sheet_end_beside_it_are_one_mark():
    plain = framed(dental, openings=())
    joined = add_sheet_end_studs(plain, [plain.stations[4].along_mm, plain.stations[4].along_mm + 30.0])
    marks = stud_marks(joined)
    assert len(marks) == len(stud_marks(plain)) + 1
    assert [member.kind for member in marks[4].members] == ["stud", "sheet_end"]
    assert sum(mark.count for mark in marks) == joined.member_count


def test_the_tapes_of_an_s_curve_follow_their_own_edge_of_the_track():
    framing = framed(boutique)
    marks = stud_marks(framing)
    assert marks[-1].left_mm == pytest.approx(framing.curve.length_mm("left_framing"))
    assert marks[-1].right_mm == pytest.approx(framing.curve.length_mm("right_framing"))


def test_a_pitch_of_nothing_is_refused():
    with pytest.raises(SurveyError, match="more than zero; 0 was given"):
        stud_marks(framed(dental), 0.0)


# Laser marks and checks.


def test_the_tangent_of_the_eight_degree_curve_is_162_06():
    # Route-curve worked solution: 8 degree curve, deflection 25 degrees 30', tangent 162.06 ft.
    curve = bare(arc(5729.578 / 8, 25.5), depth=0.1)
    assert laser_marks(curve, "centre", 100.0)[0].tangent_mm == pytest.approx(162.06, abs=0.01)


@pytest.mark.parametrize("line", LINES)
def test_a_laser_through_both_marks_touches_the_line_and_never_cuts_it(line):
    curve, _ = boutique()
    for tangents in laser_marks(curve, line, 1000.0):
        piece = curve.pieces[tangents.start.piece_index]
        radius = piece.radius_at(curve.offset_mm(line))
        for mark in (tangents.start, tangents.end):
            beam, centre = LineString([mark.at, mark.on]), Point(centre_of(piece))
            assert beam.length == pytest.approx(1000.0)
            assert beam.distance(centre) == pytest.approx(radius, abs=1e-6)
            assert math.dist(mark.on, centre.coords[0]) == pytest.approx(math.hypot(radius, 1000.0), abs=1e-6)
        # The tangents cross at the same distance from both ends.
        assert math.dist(tangents.crossing, tangents.start.at) == pytest.approx(tangents.tangent_mm)
        assert math.dist(tangents.crossing, tangents.end.at) == pytest.approx(tangents.tangent_mm)


def test_the_tangents_of_a_half_circle_never_cross():
    curve, _ = library()
    tangents = laser_marks(curve, "centre", 500.0)[0]
    assert tangents.crossing is None and tangents.tangent_mm is None


def test_diagonals_join_every_two_points_of_the_chain():
    curve, _ = boutique()
    values = {
        (diagonal.from_name, diagonal.to_name): diagonal.length_mm / IN for diagonal in check_diagonals(curve, "centre")
    }
    assert len(values) == 6
    # Worked example: end (181.734, 119.475); a chord is 2 R sin(sweep / 2).
    assert values["start", "end"] == pytest.approx(math.hypot(181.734, 119.475), abs=1e-3)
    assert values["start", "joint 1"] == pytest.approx(2 * 96 * math.sin(math.radians(35)), abs=1e-9)
    assert values["joint 1", "joint 2"] == pytest.approx(2 * 72 * math.sin(math.radians(27.5)), abs=1e-9)
    assert values["joint 2", "end"] == pytest.approx(44.0)


def test_the_diagonal_of_a_column_of_two_halves_is_its_diameter():
    curve, _ = column(30.0)
    assert [round(diagonal.length_mm / IN, 6) for diagonal in check_diagonals(curve, "centre")] == [60.0]
