import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.core.measure.survey import (
    ArcLengthChord,
    ArcPiece,
    ChordRise,
    HeightProfile,
    MatchedCurve,
    Opening,
    RadiusAngle,
    RadiusArcLength,
    RadiusChord,
    StraightPiece,
    Survey,
    SurveyError,
    ThreePoints,
)

LEVEL = HeightProfile(((0.0, 2400.0),))


def test_radius_from_chord_16_and_rise_6():
    # Machinery's Handbook 31, p. 79.
    assert ChordRise(16.0, 6.0).solve().radius_mm == pytest.approx(8.3333, abs=5e-5)
    assert ChordRise(16.0, 6.0).solve().radius_mm == pytest.approx(25 / 3, abs=1e-9)


def test_radius_60_and_rise_8_come_from_a_chord_of_59_86():
    # Machinery's Handbook 31, p. 79: the chord is 59.86 within its rounding.
    sweep = 2 * math.acos((60 - 8) / 60)
    assert RadiusChord(60.0, 59.86).solve().sweep_rad == pytest.approx(sweep, abs=2e-4)


def test_radius_12_and_rise_2_turn_an_arc_of_14_06():
    # Machinery's Handbook 31, p. 50: chord 13.27, arc 14.06.
    arc = ChordRise(13.27, 2.0).solve()
    assert arc.radius_mm * arc.sweep_rad == pytest.approx(14.06, abs=0.01)
    assert arc.radius_mm == pytest.approx(12.0, abs=0.01)


def test_arc_of_35_radius_and_60_degrees():
    # Machinery's Handbook 31, p. 78: arc 36.645 (36.652 by exact pi; its own rounding), sector 641.41.
    arc = RadiusAngle(35.0, math.radians(60)).solve()
    length = arc.radius_mm * arc.sweep_rad
    assert length == pytest.approx(36.645, abs=0.01)
    assert arc.radius_mm * length / 2 == pytest.approx(641.41, abs=0.01)


def test_chord_96_and_rise_24_give_exactly_60():
    # Carpentry worked example, "Finding the arc radius".
    assert ChordRise(96.0, 24.0).solve().radius_mm == 60.0


def test_more_than_half_a_circle():
    # R = c^2/(8h) + h/2 with chord 100, rise 80.
    arc = ChordRise(100.0, 80.0).solve()
    assert arc.radius_mm == 55.625
    assert arc.sweep_rad > math.pi
    assert RadiusChord(55.625, 100.0, major=True).solve().sweep_rad == pytest.approx(arc.sweep_rad, abs=1e-12)


@given(st.floats(10.0, 1e5), st.floats(0.01, 6.2))
def test_every_route_to_one_arc_gives_one_radius(radius, sweep):
    chord, rise = 2 * radius * math.sin(sweep / 2), radius * (1 - math.cos(sweep / 2))
    middle = (radius * math.sin(sweep / 2), -rise)
    routes = [
        RadiusAngle(radius, sweep),
        RadiusArcLength(radius, radius * sweep),
        ChordRise(chord, rise),
        ArcLengthChord(radius * sweep, chord),
        MatchedCurve(chord, rise, radius * sweep),
        RadiusChord(radius, chord, major=sweep > math.pi),
        ThreePoints(((0.0, 0.0), middle, (chord, 0.0))),
    ]
    for route in routes:
        arc = route.solve()
        assert arc.radius_mm == pytest.approx(radius, abs=0.01)
        if not isinstance(route, RadiusChord) or abs(sweep - math.pi) > 1e-3:
            assert arc.sweep_rad == pytest.approx(sweep, rel=1e-6)


@given(st.floats(1e-5, 0.2))
def test_a_nearly_flat_arc_keeps_its_radius(sweep):
    # Series of the chord: c = s (1 - x^2/6 + x^4/120 - ...), x half the sweep; exact to rounding this small.
    x = sweep / 2
    arc = 10_000.0
    chord = arc - arc * (x**2 / 6 - x**4 / 120 + x**6 / 5040)
    # One bit of the typed chord is worth this share of the shortfall.
    slack = 4e-16 / (x**2 / 6) + 1e-9
    assert ArcLengthChord(arc, chord).solve().sweep_rad == pytest.approx(sweep, rel=slack)


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        (ChordRise(100.0, 0.0), "rise", "more than zero; 0 was given"),
        (ChordRise(0.0, 5.0), "chord", "more than zero"),
        (ChordRise(float("nan"), 5.0), "chord", "more than zero; nan was given"),
        (RadiusChord(10.0, 20.1), "chord", "cannot exceed twice the radius"),
        (RadiusAngle(10.0, 2 * math.pi), "angle", "less than 360 degrees"),
        (RadiusAngle(-1.0, 1.0), "radius", "more than zero"),
        (RadiusAngle(1e9, 1.0), "radius", "beyond any interior wall"),
        (RadiusArcLength(10.0, 63.0), "arc", "less than 360 degrees"),
        (ArcLengthChord(100.0, 100.0), "arc", "longer than its chord"),
        (ThreePoints(((0.0, 0.0), (1.0, 0.0), (2.0, 0.0))), "points", "straight line"),
        (ThreePoints(((0.0, 0.0), (0.0, 0.0), (2.0, 0.0))), "points", "apart"),
        (ThreePoints(((0.0, 0.0), (float("inf"), 0.0), (2.0, 0.0))), "points", "finite"),
    ],
)
def test_an_impossible_arc_is_refused_with_its_entry_and_reason(given, field, words):
    with pytest.raises(SurveyError, match=words) as refused:
        given.solve()
    assert refused.value.field == field


def test_the_order_of_three_points_says_the_turn():
    assert ThreePoints(((0.0, 0.0), (50.0, -20.0), (100.0, 0.0))).solve().turn == "left"
    assert ThreePoints(((0.0, 0.0), (50.0, 20.0), (100.0, 0.0))).solve().turn == "right"


def test_a_line_nobody_knows_is_refused_on_an_arc():
    with pytest.raises(SurveyError, match="'outside' was given"):
        ArcPiece(RadiusAngle(1000.0, 1.0), "left", measured_on="outside")


def test_a_turn_nobody_knows_is_refused():
    with pytest.raises(SurveyError, match="one of left, right; 'Left' was given"):
        ArcPiece(RadiusAngle(1000.0, 1.0), "Left")


def test_a_frame_or_line_nobody_knows_is_refused_on_an_opening():
    with pytest.raises(SurveyError, match="one of flat, radial; 'round' was given"):
        Opening("Door", 500.0, 900.0, 2100.0, frame="round")
    with pytest.raises(SurveyError, match="the line Door was measured on"):
        Opening("Door", 500.0, 900.0, 2100.0, measured_on="outside")


@pytest.mark.parametrize(
    "stations", [(), ((0.0, 0.0),), ((0.0, float("nan")),), ((-1.0, 2400.0),), ((9.0, 1.0), (0.0, 1.0))]
)
def test_an_impossible_height_profile_is_refused(stations):
    with pytest.raises(SurveyError) as refused:
        HeightProfile(stations)
    assert refused.value.field == "height"


def test_a_step_in_the_ceiling_counts_on_its_own_side():
    step = HeightProfile(((0.0, 2400.0), (1000.0, 2400.0), (1000.0, 2700.0), (2000.0, 2700.0)))
    assert step.at(999.0) == 2400.0
    assert step.at(1000.0) == 2700.0
    assert step.mean_between(500.0, 1500.0) == pytest.approx(2550.0, abs=1e-6)
    assert step.least_between(1000.0, 1500.0) == 2700.0
    assert step.least_between(500.0, 1000.0) == 2400.0


def test_the_least_height_sees_a_dip_between_the_ends():
    dip = HeightProfile(((0.0, 2400.0), (500.0, 2000.0), (1000.0, 2400.0)))
    assert dip.least_between(0.0, 1000.0) == 2000.0


def test_a_wall_needs_a_piece_and_a_known_line():
    with pytest.raises(SurveyError, match="at least one piece"):
        Survey((), LEVEL, "centre", 92.0, 0.0, 0.0)
    with pytest.raises(SurveyError, match="not a line of the wall"):
        Survey((StraightPiece(1000.0),), LEVEL, "outside", 92.0, 0.0, 0.0)


@pytest.mark.parametrize("length", [0.0, -5.0, float("nan"), float("inf"), 1e300])
def test_a_straight_piece_needs_a_believable_length(length):
    with pytest.raises(SurveyError) as refused:
        Survey((StraightPiece(length),), LEVEL, "centre", 92.0, 0.0, 0.0)
    assert refused.value.field == "pieces[0].length"
