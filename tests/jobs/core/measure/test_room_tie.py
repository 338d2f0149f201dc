import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Point
from shapely.affinity import rotate, translate

from jobs.core.measure.room_tie import RoomTie, place_in_room, room_findings
from jobs.core.measure.survey import SurveyError
from tests.jobs.core.walls import IN, boutique, column, dental


def tie(**more):
    # Dental: its chord of 168 in is the hypotenuse's mirror: A at the start, B 126 in square off it, 3-4-5 triangle.
    figures = {
        "apart_mm": 126 * IN,
        "first_to_start_mm": 0.0,
        "second_to_start_mm": 126 * IN,
        "first_to_point_mm": 168 * IN,
        "second_to_point_mm": 210 * IN,
    }
    return RoomTie("Column C4", "Corner", **(figures | more))


def test_a_wall_square_to_two_columns_is_placed_by_a_3_4_5_triangle():
    curve, _ = dental(openings=())
    place = place_in_room(curve, tie(), 3.175)
    assert place.agrees and place.line == "right_framing"
    assert place.own_mm / IN == pytest.approx(168)
    rows = [(diagonal.from_name, diagonal.to_name, round(diagonal.length_mm / IN, 6)) for diagonal in place.diagonals]
    assert rows == [
        ("Column C4", "start", 0.0),
        ("Corner", "start", 126.0),
        ("Column C4", "end", 168.0),
        ("Corner", "end", 210.0),
    ]


def test_tapes_that_disagree_with_the_wall_are_a_plain_complaint():
    curve, _ = dental(openings=())
    # 172 and sqrt(126^2 + 172^2) = 213.21 in put the end 4 in beyond the chord of 168.
    place = place_in_room(curve, tie(first_to_point_mm=172 * IN, second_to_point_mm=213.21 * IN), 3.175)
    (finding,) = room_findings("wall", "Screen", place, "imperial")
    assert (
        finding.weight == "caution" and "14' 4\" apart; by its own figures they are 14' 0\" apart" in finding.sentence
    )
    assert finding.sentence.endswith("Tape them again.")


def test_without_the_tape_s_accuracy_nobody_says_that_it_agrees():
    place = place_in_room(dental(openings=())[0], tie(), None)
    assert place.agrees is None
    assert "tape accuracy" in room_findings("wall", "Screen", place, "imperial")[0].sentence


@pytest.mark.parametrize(
    ("wrong", "field", "message"),
    [
        ({"second_to_start_mm": 100.0}, "second_to_start", "do not meet"),
        ({"first_to_point_mm": 900.0, "second_to_point_mm": 900.0}, "second_to_point", "together too short"),
        ({"first_to_point_mm": 9e9}, "first_to_point", "must be from"),
        ({"apart_mm": float("nan")}, "apart", "must be from"),
        ({"joint": 0}, "joint", "counted from 1"),
    ],
)
def test_tapes_that_cannot_be_are_refused_by_their_entry(wrong, field, message):
    with pytest.raises(SurveyError, match=message) as refused:
        tie(**wrong)
    assert refused.value.field == field


def test_one_name_for_both_points_is_refused():
    with pytest.raises(SurveyError, match="two names"):
        RoomTie("Corner", " corner ", 3000.0, 0.0, 3000.0, 4000.0, 5000.0)


def test_a_closed_wall_needs_a_joint_and_a_joint_must_be_there():
    with pytest.raises(SurveyError, match="ends where it starts"):
        place_in_room(column()[0], tie(), 3.0)
    with pytest.raises(SurveyError, match="no joint 3"):
        place_in_room(boutique()[0], tie(joint=3), 3.0)


@given(
    st.sampled_from([None, 1, 2]),
    st.tuples(st.floats(-9000, 9000), st.floats(-9000, 9000)),
    st.tuples(st.floats(-9000, 9000), st.floats(-9000, 9000)),
    st.floats(-180, 180),
)
def test_tapes_read_off_a_wall_moved_about_the_room_give_its_diagonals_back(joint, first, second, turned):
    """The wall is moved by an independent library; its tapes are read off there."""
    curve, _ = boutique()
    line = curve.offset_mm("right_framing")
    start, end = curve.pieces[0].point_at(0.0, line), curve.pieces[-1].point_at(1.0, line)
    point = end if joint is None else curve.pieces[joint].point_at(0.0, line)
    moved = [translate(rotate(Point(entry), turned, origin=(0, 0)), 1200.0, -800.0) for entry in (start, point, end)]
    each, other = Point(first), Point(second)
    assume(each.distance(other) > 500)
    ux, uy = ((other.x - each.x) / each.distance(other), (other.y - each.y) / each.distance(other))
    across = [ux * (at.y - each.y) - uy * (at.x - each.x) for at in moved[:2]]
    # On the line of the fixed points, or mirrored in it just as far off, a place has two answers.
    assume(min(abs(off) for off in across) > 100)
    taped = RoomTie(
        "A", "B", each.distance(other), *(fixed.distance(at) for at in moved[:2] for fixed in (each, other)),
        joint=joint, side="left" if across[0] > 0 else "right",
    )  # fmt: skip
    place = place_in_room(curve, taped, 3.175)
    assert place.agrees and place.taped_mm == pytest.approx(place.own_mm, abs=1e-3)
    true = {"start": moved[0], place.point_name: moved[1], "end": moved[2]}
    for diagonal in place.diagonals:
        fixed = each if diagonal.from_name == "A" else other
        assert diagonal.length_mm == pytest.approx(fixed.distance(true[diagonal.to_name]), abs=1e-3)
    assert math.dist(place.first, place.second) == pytest.approx(taped.apart_mm, abs=1e-6)
