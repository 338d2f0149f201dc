"""Offsets fitted to pieces; known walls are sampled by numpy, compared by shapely and scipy."""

import math
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares
from shapely.geometry import LineString

from jobs.core.measure.curve import curve_of
from jobs.core.measure.offsets_fit import Offset, fit_offsets
from jobs.core.measure.survey import (
    ArcPiece,
    HeightProfile,
    RadiusAngle,
    StraightPiece,
    Survey,
    SurveyError,
)

LEVEL = HeightProfile(((0.0, 2400.0),))


def arc(radius, degrees, turn, kink=0.0):
    return ArcPiece(RadiusAngle(radius, math.radians(degrees)), turn, None, math.radians(kink))


def drawn(pieces, heading=0.0, start=(0.0, 0.0)):
    """Points all along a chain, close together, turned and moved into the baseline's coordinates."""
    curve = curve_of(Survey(tuple(pieces), LEVEL, "centre", 1.0, 0.0, 0.0))
    x, y = np.array([curve.point_at(curve.centre_length_mm * n / 4000) for n in range(4001)]).T
    c, s = math.cos(heading), math.sin(heading)
    return start[0] + x * c - y * s, start[1] + x * s + y * c


def offsets_to(pieces, heading=0.0, every=150.0, noise=0.0, seed=1):
    """Offsets at even steps; the start of the wall is a fixed mark and carries no error."""
    draw = random.Random(seed)
    x, y = drawn(pieces, heading)
    places = np.arange(0.0, x[-1], every)
    read = np.interp(places, x, y)
    return [
        Offset(float(a), float(b) + (draw.gauss(0, noise) if a else 0.0)) for a, b in zip(places, read, strict=True)
    ]


def apart(fit, pieces, heading):
    """The furthest the fitted wall runs from the true one over the measured part, by shapely."""
    x, y = drawn(fit.pieces, fit.heading_rad, fit.start)
    true_x, true_y = drawn(pieces, heading)
    true = LineString(np.column_stack((true_x, true_y)))
    fitted = LineString(np.column_stack((x, y)))
    return max(true.distance(fitted.interpolate(share, normalized=True)) for share in np.linspace(0, 0.995, 60))


def radii(fit):
    return [piece.given.radius_mm if isinstance(piece, ArcPiece) else None for piece in fit.pieces]


FOUR = [StraightPiece(1200.0), arc(2400.0, 40, "left"), arc(1800.0, 50, "right"), StraightPiece(1000.0)]


@pytest.mark.parametrize("seed", range(6))
def test_a_known_wall_of_four_pieces_is_found_in_noisy_offsets_within_the_noise(seed):
    noise = 1.0
    offsets = offsets_to(FOUR, -0.1, noise=noise, seed=seed)
    fit = fit_offsets(offsets, 3.5 * noise, "w", "metric")
    assert [getattr(piece, "turn", None) for piece in fit.pieces] == [None, "left", "right", None]
    assert fit.kinks_rad == (0.0, 0.0, 0.0)
    assert fit.pieces[1].given.radius_mm == pytest.approx(2400.0, rel=0.02)
    assert fit.pieces[2].given.radius_mm == pytest.approx(1800.0, rel=0.02)
    # Nowhere further from the true wall than the worst reading was.
    exact = offsets_to(FOUR, -0.1)
    worst = max(abs(entry.offset_mm - true.offset_mm) for entry, true in zip(offsets, exact, strict=True))
    assert apart(fit, FOUR, -0.1) < worst
    assert fit.rms_mm < 1.3 * noise


def test_offsets_without_noise_give_the_wall_back():
    fit = fit_offsets(offsets_to(FOUR, -0.1), 0.5, "w", "metric")
    assert radii(fit) == [None, pytest.approx(2400.0, abs=1.0), pytest.approx(1800.0, abs=1.0), None]
    assert fit.pieces[0].length_mm == pytest.approx(1200.0, abs=1.0)
    assert fit.heading_rad == pytest.approx(-0.1, abs=1e-3)
    assert apart(fit, FOUR, -0.1) < 0.1


@settings(max_examples=25)
@given(st.integers(0, 10**6))
def test_any_smooth_wall_is_fitted_with_no_more_pieces_than_it_has(seed):
    draw = random.Random(seed)
    heading = at = draw.uniform(-0.4, 0.4)
    pieces, straight = [], draw.random() < 0.3
    for _ in range(draw.randint(1, 4)):
        if straight:
            pieces.append(StraightPiece(draw.uniform(600.0, 2000.0)))
            straight = False
            continue
        turn, sweep = (-1 if at > 0 else 1), draw.uniform(0.4, 1.0)
        pieces.append(arc(draw.uniform(1200.0, 4000.0), math.degrees(sweep), "left" if turn > 0 else "right"))
        at += turn * sweep
        straight = draw.random() < 0.4
    fit = fit_offsets(offsets_to(pieces, heading, noise=0.8, seed=seed), 3.5, "w", "metric")
    assert fit.is_within_tolerance
    assert len(fit.pieces) <= len(pieces)
    assert apart(fit, pieces, heading) < 3.5 + 0.8 * 3


def test_one_noisy_arc_has_the_radius_of_scipys_own_fit():
    offsets = offsets_to([arc(3000.0, 50, "left")], -0.4, noise=1.0, seed=4)
    x = np.array([offset.along_mm for offset in offsets])
    y = np.array([offset.offset_mm for offset in offsets])

    # The circle through the fixed first offset: two unknowns, the heading there and the radius.
    def off(u):
        centre = (x[0] - u[1] * math.sin(u[0]), y[0] + u[1] * math.cos(u[0]))
        return np.hypot(x - centre[0], y - centre[1]) - u[1]

    reference = least_squares(off, [-0.3, 2500.0], x_scale=[1, 1000], xtol=1e-15, ftol=1e-15, gtol=1e-15).x
    fit = fit_offsets(offsets, 4.0, "w", "metric")
    assert radii(fit) == [pytest.approx(reference[1], rel=1e-5)]
    assert fit.heading_rad == pytest.approx(reference[0], abs=1e-6)


def test_the_chain_starts_at_the_first_offset():
    offsets = offsets_to(FOUR, -0.1, noise=1.0)
    fit = fit_offsets(offsets, 3.5, "w", "metric")
    assert fit.start == (offsets[0].along_mm, offsets[0].offset_mm)
    assert fit.deviations[0].deviation_mm == 0.0


def test_a_corner_between_two_straights_is_a_kink_and_told():
    pieces = [StraightPiece(2000.0), StraightPiece(1500.0, math.radians(20))]
    fit = fit_offsets(offsets_to(pieces, -0.1, noise=0.5), 2.0, "w", "metric")
    assert radii(fit) == [None, None]
    assert math.degrees(fit.kinks_rad[0]) == pytest.approx(20.0, abs=0.2)
    kink = next(finding for finding in fit.findings if finding.key == "w/kink-1")
    assert "20.0 degrees to the left" in kink.sentence


def test_a_tight_corner_arc_is_an_arc_and_no_kink():
    pieces = [StraightPiece(1500.0), arc(400.0, 45, "left"), StraightPiece(1500.0)]
    fit = fit_offsets(offsets_to(pieces, -0.4, noise=0.5), 2.0, "w", "metric")
    assert radii(fit) == [None, pytest.approx(400.0, rel=0.05), None]
    assert fit.kinks_rad == (0.0, 0.0)


def test_an_arc_no_rounder_than_the_tolerance_is_made_straight():
    # Rise of the arc over 3000 at R 800,000: 3000^2/(8 x 800,000) = 1.4 mm.
    offsets = [Offset(x, x * x / 1_600_000) for x in range(0, 3001, 250)]
    assert radii(fit_offsets(offsets, 1.5, "w", "metric")) == [None]


def test_the_control_of_the_above_a_finer_tolerance_keeps_the_arc():
    offsets = [Offset(x, x * x / 1_600_000) for x in range(0, 3001, 250)]
    assert radii(fit_offsets(offsets, 0.1, "w", "metric")) == [pytest.approx(800_000, rel=1e-3)]


def test_the_largest_deviation_is_reported_with_its_place():
    offsets = [Offset(x, 0.0) for x in range(0, 3001, 250)]
    offsets[7] = Offset(1750.0, 2.0)
    fit = fit_offsets(offsets, 3.0, "w", "metric")
    assert fit.largest.along_mm == 1750.0
    assert 1.0 < fit.largest.deviation_mm <= 2.0
    assert [(f.key, f.weight) for f in fit.findings] == [("w/offsets", "note")]
    assert "1750 mm along the baseline" in fit.findings[0].sentence


def test_a_wall_of_no_arcs_asks_for_a_template():
    draw = random.Random(7)
    offsets = [Offset(x, draw.uniform(-200, 200)) for x in range(0, 3001, 250)]
    fit = fit_offsets(offsets, 2.0, "w", "metric")
    assert not fit.is_within_tolerance
    assert [f.weight for f in fit.findings if f.key == "w/offsets"] == ["decide"]
    assert "template only" in fit.findings[0].sentence


def test_a_finer_tolerance_takes_more_pieces_of_an_ellipse():
    ellipse = [Offset(x, 900 * math.sqrt(1 - ((x - 2000) / 2100) ** 2)) for x in range(0, 4001, 100)]
    counts = []
    for tolerance in (20.0, 3.0, 1.0):
        fit = fit_offsets(ellipse, tolerance, "w", "metric")
        assert fit.is_within_tolerance
        counts.append(len(fit.pieces))
    assert counts[0] < counts[1] < counts[2]


def test_a_half_circle_measured_from_its_own_diameter_is_found():
    # Its ends stand square to the baseline, the steepest a chain can be.
    offsets = [Offset(x, math.sqrt(1000.0**2 - (x - 1000.0) ** 2)) for x in range(0, 2001, 100)]
    assert radii(fit_offsets(offsets, 2.0, "w", "metric")) == [pytest.approx(1000.0, rel=5e-3)]


def test_the_fitted_pieces_are_a_survey():
    fit = fit_offsets(offsets_to(FOUR, -0.1, noise=1.0), 3.5, "w", "metric")
    curve = curve_of(Survey(fit.pieces, LEVEL, "left_finished", 92.0, 12.7, 12.7))
    assert len(curve.pieces) == 4


@pytest.mark.parametrize("count", [3, 4, 5])
def test_few_offsets_are_one_piece(count):
    offsets = offsets_to([arc(3000.0, 40, "left")], -0.3, every=1900.0 / (count - 1))[:count]
    fit = fit_offsets(offsets, 1.0, "w", "metric")
    assert radii(fit) == [pytest.approx(3000.0, rel=1e-3)]


@pytest.mark.parametrize(
    ("offsets", "tolerance", "field", "words"),
    [
        ([Offset(0, 0), Offset(1, 0)], 1.0, "offsets", "3 to 200 offsets; 2 were given"),
        ([Offset(0, 0), Offset(100, 0), Offset(100, 5)], 1.0, "offsets[2].along", "further along"),
        ([Offset(0, 0), Offset(100, 0), Offset(50, 5)], 1.0, "offsets[2].along", "50 mm was given"),
        ([Offset(0, 0), Offset(100, float("nan")), Offset(150, 5)], 1.0, "offsets[1].offset", "nan was given"),
        ([Offset(0, 0), Offset(100, 0), Offset(150, 5000)], 1.0, "offsets[2].offset", "almost square"),
        ([Offset(0, 0), Offset(100, 0), Offset(150, 5)], 0.0, "tolerance", "more than zero; 0 mm was given"),
        ([Offset(float(n), 0.0) for n in range(201)], 1.0, "offsets", "201 were given"),
    ],
)
def test_impossible_offsets_are_refused_with_their_entry_and_reason(offsets, tolerance, field, words):
    with pytest.raises(SurveyError, match=words) as refused:
        fit_offsets(offsets, tolerance, "w", "metric")
    assert refused.value.field == field
