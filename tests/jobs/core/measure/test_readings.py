import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.core.measure.radius_readings import (
    EndGaps,
    Lean,
    OnBlocks,
    RadiusBand,
    Reading,
    ReadingAtHeight,
    base_and_crown,
    radii_by_lean,
    radii_by_readings,
    radius_of_readings,
)
from jobs.core.measure.survey import SurveyError

IN = 25.4


def in_inches(band, places=1):
    return tuple(round(value / IN, places) for value in (band.low_mm, band.best_mm, band.high_mm))


def test_chord_96_and_rise_6_read_to_an_eighth_give_191_1_to_199_0():
    # The feature table's own figure; by hand: 96^2/(8 x 6.125) + 6.125/2 = 191.14, 96^2/(8 x 5.875) + 5.875/2 = 199.02.
    assert in_inches(Reading(96 * IN, 6 * IN, IN / 8).band()) == (191.1, 195.0, 199.0)


def test_chord_48_and_rise_1_and_a_half_misread_by_an_eighth_give_178_to_210():
    # The trade rules' computed figure: radius between 178 and 210 in.
    assert in_inches(Reading(48 * IN, 1.5 * IN, IN / 8).band(), 0) == (178.0, 193.0, 210.0)


def test_a_chord_read_with_the_same_tape_widens_the_band():
    # By hand: 95.875^2/49 + 3.0625 = 190.65, 96.125^2/47 + 2.9375 = 199.53.
    assert in_inches(Reading(96 * IN, 6 * IN, IN / 8, IN / 8).band(), 2) == (190.65, 195.0, 199.53)


@given(st.floats(100, 5000), st.floats(0.01, 1.5), st.floats(0.01, 0.4), st.floats(0, 0.1))
def test_no_chord_and_rise_in_the_box_gives_a_radius_outside_the_band(chord, rise_share, rise_error, chord_error):
    rise = chord * rise_share
    band = Reading(chord, rise, rise * rise_error, chord * chord_error).band()
    radii = []
    for s, t in itertools.product([n / 20 - 1 for n in range(41)], repeat=2):
        c, h = chord * (1 + s * chord_error), rise * (1 + t * rise_error)
        radii.append(c * c / (8 * h) + h / 2)
    assert min(radii) >= band.low_mm * (1 - 1e-12)
    assert max(radii) <= band.high_mm * (1 + 1e-12)
    # And the extremes are reached: a grid of the box comes near both ends.
    assert min(radii) == pytest.approx(band.low_mm, rel=2e-3)
    assert max(radii) == pytest.approx(band.high_mm, rel=1e-9)


def test_a_rise_no_greater_than_the_tape_may_be_a_straight_wall():
    radius = radius_of_readings([Reading(1200.0, 2.0, 2.0)], "w/piece-1", "metric")
    assert not radius.band.is_bounded
    assert [(f.key, f.weight) for f in radius.findings] == [("w/piece-1/flat", "decide")]


def test_agreeing_readings_share_the_radii_common_to_all():
    wide, narrow = Reading(48 * IN, 1.5 * IN, IN / 8), Reading(96 * IN, 6 * IN, IN / 8)
    radius = radius_of_readings([wide, narrow], "w/piece-1", "imperial")
    assert radius.is_one_radius
    # 48^2/(8 x 1.5) + 0.75 = 192.75 in and 96^2/(8 x 6) + 3 = 195 in: 2-1/4 in apart.
    (finding,) = radius.findings
    assert finding.weight == "note"
    assert 'R 16\' 0-3/4" to 16\' 3", 2-1/4" apart. Go by the longest, the chord of 8\' 0"' in finding.sentence
    assert in_inches(radius.band)[0::2] == (191.1, 199.0)
    # The better reading decides: its band is a quarter as wide, so it weighs sixteen times as much.
    assert radius.band.best_mm / IN == pytest.approx(195.0, abs=0.3)


def test_readings_that_share_no_radius_are_flagged_and_the_longest_chord_is_trusted():
    short, long = Reading(48 * IN, 2.5 * IN, IN / 8), Reading(96 * IN, 6 * IN, IN / 8)
    radius = radius_of_readings([short, long], "w/piece-1", "imperial")
    assert not radius.is_one_radius
    assert radius.trusted == 1
    assert radius.band == long.band()
    assert radius.findings[0].weight == "decide"
    assert "Not one radius" in radius.findings[0].sentence
    assert "trust the longest, the chord of 8' 0\"" in radius.findings[0].sentence


@given(st.floats(500, 20_000), st.lists(st.tuples(st.floats(0.1, 1.9), st.floats(-1, 1)), min_size=1, max_size=6))
def test_readings_of_one_arc_within_their_accuracy_always_agree_and_hold_its_radius(radius, taken):
    readings = []
    for sweep, error in taken:
        chord, rise = 2 * radius * math.sin(sweep / 2), radius * (1 - math.cos(sweep / 2))
        accuracy = min(3.0, rise / 2)
        readings.append(Reading(chord, rise + error * accuracy, accuracy))
    result = radius_of_readings(readings, "w", "metric")
    assert result.is_one_radius
    assert result.band.low_mm * (1 - 1e-9) <= radius <= result.band.high_mm * (1 + 1e-9)
    assert result.band.low_mm <= result.band.best_mm <= result.band.high_mm


def test_a_band_moves_with_the_line_it_is_stated_on():
    # Parallel curves: from the convex to the concave face of a wall 4-5/8 thick, less by exactly that.
    band = Reading(96 * IN, 6 * IN, IN / 8).band()
    assert band.on_parallel(-4.625 * IN).best_mm / IN == pytest.approx(195.0 - 4.625, abs=1e-9)


@given(st.floats(300, 20_000), st.floats(0.02, 0.9), st.floats(0.1, 0.9))
def test_a_straightedge_on_a_convex_face_gives_the_radius_wherever_it_touches(radius, share, touching):
    length = radius * share
    a, b = length * touching, length * (1 - touching)
    gaps = [radius - math.sqrt(radius**2 - side**2) for side in (a, b)]
    band = EndGaps(length, gaps[0], gaps[1], 1e-6).band()
    assert band.best_mm == pytest.approx(radius, rel=1e-6)


@given(st.floats(600, 20_000), st.floats(0.1, 0.9), st.floats(0.2, 0.8), st.floats(-1, 1), st.floats(-1, 1))
def test_gaps_within_their_accuracy_keep_the_radius_in_the_band(radius, share, touching, first, last):
    length = radius * share
    gaps = [radius - math.sqrt(radius**2 - (length * part) ** 2) for part in (touching, 1 - touching)]
    accuracy = min(gaps) / 3
    band = EndGaps(length, gaps[0] + first * accuracy, gaps[1] + last * accuracy, accuracy).band()
    assert band.low_mm * (1 - 1e-9) <= radius <= band.high_mm * (1 + 1e-9)


def test_a_gap_at_one_end_only_puts_the_touching_point_at_the_other():
    # Pythagoras: R^2 = L^2 + (R - g)^2.
    band = EndGaps(1200.0, 0.0, 100.0, 1.0).band()
    assert band.best_mm**2 == pytest.approx(1200.0**2 + (band.best_mm - 100.0) ** 2)


def test_blocks_that_hold_the_straightedge_off_are_taken_off_the_gap():
    # Chord 96, rise 24 gives 60: carpentry worked example, "Finding the arc radius"; blocks 30, gap 6.
    assert OnBlocks(96.0, 30.0, 6.0, 0.125).band().best_mm == 60.0


@pytest.mark.parametrize(
    ("make", "field", "words"),
    [
        (lambda: Reading(0.0, 10.0, 1.0), "chord", "more than zero; 0 was given"),
        (lambda: Reading(100.0, 10.0, 0.0), "accuracy", "more than zero; 0 was given"),
        (lambda: Reading(100.0, 10.0, float("nan")), "accuracy", "nan was given"),
        (lambda: Reading(100.0, 10.0, 1.0, -1.0), "chord_accuracy", "zero or more"),
        (lambda: OnBlocks(100.0, 10.0, 10.0, 1.0), "gap", "less than the blocks"),
        (lambda: EndGaps(100.0, 0.0, 0.0, 1.0), "last_gap", "touches at both ends"),
        (lambda: EndGaps(100.0, 60.0, 60.0, 1.0), "first_gap", "use a shorter straightedge"),
        (lambda: Lean(0.0, 3000.0, 2400.0), "outwards", "less than that height"),
        (lambda: Lean(-1.0, 3.0, 2400.0), "along", "zero or more along"),
        (lambda: RadiusBand(5.0, 4.0, 6.0), "radius", "5, 4, 6 were given"),
        (lambda: ReadingAtHeight(-1.0, Reading(100.0, 10.0, 1.0)), "height", "-1 mm was given"),
        (lambda: radius_of_readings([], "w", "metric"), "readings", "at least one reading"),
    ],
)
def test_an_impossible_reading_is_refused_with_its_entry_and_reason(make, field, words):
    with pytest.raises(SurveyError, match=words) as refused:
        make()
    assert refused.value.field == field


BASE = RadiusBand(2980.0, 3000.0, 3020.0)


def test_a_wall_that_leans_alike_all_along_has_its_base_radius_plus_the_lean():
    # A plumb arc moved outwards by x has a radius greater by x.
    radii = radii_by_lean(BASE, 1.0, [Lean(0.0, -24.0, 2400.0)], [0.0, 1200.0, 2400.0])
    assert [radius.band.best_mm for radius in radii] == [3000.0, 2988.0, 2976.0]


@given(st.floats(-30, 30), st.floats(-30, 30))
def test_a_plumb_arc_whose_head_has_slid_sideways_keeps_its_radius(dx, dy):
    # A displaced circle is a circle: each place leans by what it needs to lie on it, square to the base.
    leans = []
    for along in (0.0, 1000.0, 2000.0, 3000.0):
        angle = along / 3000.0
        facing = dx * math.sin(angle) + dy * math.cos(angle)
        radius = facing + math.sqrt(3000.0**2 - (dx**2 + dy**2 - facing**2))
        leans.append(Lean(along, radius - 3000.0, 2400.0))
    crown = radii_by_lean(BASE, 1.0, leans, [2400.0])[0]
    assert crown.band.best_mm == pytest.approx(3000.0, abs=1e-4)
    assert crown.off_arc_mm < 1e-4


def test_leans_of_no_arc_say_how_far_the_wall_is_from_one():
    leans = [Lean(along, out, 2400.0) for along, out in ((0, 0), (750, 10), (1500, -10), (2250, 10), (3000, 0))]
    assert radii_by_lean(BASE, 1.0, leans, [2400.0])[0].off_arc_mm > 5.0


def test_two_leans_are_neither_one_nor_a_circle():
    with pytest.raises(SurveyError, match="at least three; 2 were given"):
        radii_by_lean(BASE, 1.0, [Lean(0.0, 5.0, 2400.0), Lean(100.0, 6.0, 2400.0)], [2400.0])


def test_base_and_crown_are_each_told_their_radius():
    radii = radii_by_lean(BASE, 1.0, [Lean(0.0, 24.0, 2400.0)], [0.0, 2400.0])
    finding = base_and_crown(radii, "w/piece-1", "metric")
    assert finding.weight == "caution"
    assert "3000 mm" in finding.sentence and "3024 mm" in finding.sentence


def test_a_plumb_wall_says_nothing_of_base_and_crown():
    assert base_and_crown(radii_by_lean(BASE, 1.0, [Lean(0.0, 1.0, 2400.0)], [0.0, 2400.0]), "w", "metric") is None


def test_readings_at_two_heights_give_a_radius_each_from_the_floor_up():
    crown, foot = Reading(96 * IN, 5.5 * IN, IN / 8), Reading(96 * IN, 6 * IN, IN / 8)
    taken = [ReadingAtHeight(100 * IN, crown), ReadingAtHeight(4 * IN, foot), ReadingAtHeight(4 * IN, foot)]
    radii = radii_by_readings(taken, "w/piece-1", "imperial")
    assert [round(radius.height_mm / IN) for radius in radii] == [4, 100]
    # By hand: 96^2/(8 x 5.5) + 5.5/2 = 212.20.
    assert [round(radius.band.best_mm / IN, 2) for radius in radii] == [195.0, 212.2]


def test_readings_that_disagree_at_one_height_are_refused_with_that_height():
    taken = [ReadingAtHeight(0.0, Reading(2400.0, 150.0, 1.0)), ReadingAtHeight(0.0, Reading(1200.0, 60.0, 1.0))]
    with pytest.raises(SurveyError, match="at 0 mm: Not one radius"):
        radii_by_readings(taken, "w/piece-1", "metric")
