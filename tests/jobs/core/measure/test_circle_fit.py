"""One arc through points, against scipy and numpy as independent references."""

import math
import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from jobs.core.measure.circle_fit import fit_arc, squares_of_fit
from jobs.core.measure.least_squares import refine, solve
from jobs.core.measure.survey import SurveyError


def on_arc(radius, sweep, count, noise=0.0, seed=1):
    draw = random.Random(seed)
    turned = [sweep * n / (count - 1) for n in range(count)]
    return [
        (radius * math.sin(t) + draw.gauss(0, noise), radius * (1 - math.cos(t)) + draw.gauss(0, noise)) for t in turned
    ]


@pytest.mark.parametrize(("radius", "sweep"), [(800.0, 6.0), (3000.0, 0.5), (50_000.0, 0.1), (1500.0, 3.0)])
def test_a_noisy_arc_is_the_least_squares_circle_of_scipy(radius, sweep):
    points = on_arc(radius, sweep, 25, noise=0.5)
    x, y = np.array(points).T
    far = least_squares(
        lambda c: np.hypot(x - c[0], y - c[1]) - c[2], [0, radius, radius], xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    fit = fit_arc(points)
    assert fit.radius_mm == pytest.approx(abs(far.x[2]), rel=1e-5)
    assert math.fsum(d * d for d in fit.deviations_mm) <= 2 * far.cost * (1 + 1e-9)


@given(st.floats(50.0, 1e5), st.floats(0.2, 6.0), st.floats(-3.0, 3.0), st.sampled_from((1, -1)), st.integers(3, 20))
def test_points_of_a_circle_give_it_back_with_its_turn(radius, sweep, heading, turn, count):
    turned = [
        (x * math.cos(heading) - turn * y * math.sin(heading), x * math.sin(heading) + turn * y * math.cos(heading))
        for x, y in on_arc(radius, sweep, count)
    ]
    fit = fit_arc(turned)
    assert fit.radius_mm == pytest.approx(radius, rel=1e-6)
    assert fit.largest_mm < 1e-5
    assert sweep / (count - 1) >= math.pi or fit.turn == turn


def test_points_on_a_line_give_a_straight():
    fit = fit_arc([(0.0, 0.0), (300.0, 400.0), (600.0, 800.0), (900.0, 1200.0)])
    assert fit.turn == 0
    assert fit.radius_mm is None
    assert math.tan(fit.heading_rad) == pytest.approx(4 / 3)


def test_a_deviation_is_positive_on_the_left_of_walking():
    # Three points of a straight, one lifted: the straight passes between them.
    fit = fit_arc([(0.0, 0.0), (100.0, 1.0), (200.0, 0.0), (300.0, 1.0), (400.0, 0.0)])
    assert [d > 0 for d in fit.deviations_mm][1] is True
    assert math.fsum(fit.deviations_mm) == pytest.approx(0.0, abs=1e-6)


def test_the_quick_estimate_is_near_the_refined_sum():
    points = on_arc(3000.0, 0.5, 25, noise=0.5)
    sums = [0.0] * 9
    for x, y in points:
        z = x * x + y * y
        for place, value in enumerate((1.0, x, y, x * x, x * y, y * y, x * z, y * z, z * z)):
            sums[place] += value
    refined = math.fsum(d * d for d in fit_arc(points).deviations_mm)
    assert squares_of_fit(sums) == pytest.approx(refined, rel=1e-3)


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([(0.0, 0.0), (1.0, 1.0)], "at least three points; 2 were given"),
        ([(0.0, 0.0), (float("nan"), 1.0), (2.0, 0.0)], "finite coordinates"),
        ([(5.0, 5.0)] * 4, "apart"),
    ],
)
def test_points_that_give_no_arc_are_refused(points, words):
    with pytest.raises(SurveyError, match=words) as refused:
        fit_arc(points)
    assert refused.value.field == "points"


def test_refinement_finds_the_minimum_of_scipy():
    # Rosenbrock's function as two residuals; scipy's own minimum is (1, 1).
    def residuals(u):
        return [10 * (u[1] - u[0] ** 2), 1 - u[0]]

    reference = least_squares(residuals, [-1.2, 1.0]).x
    assert refine(residuals, (-1.2, 1.0), (1e-6, 1e-6)) == pytest.approx(tuple(reference), abs=1e-6)


def test_refinement_needs_residuals_at_its_start():
    with pytest.raises(ValueError, match="do not exist at the start"):
        refine(lambda u: None, (1.0,), (1e-6,))


@given(st.lists(st.lists(st.floats(-10, 10), min_size=3, max_size=3), min_size=3, max_size=3))
def test_a_small_system_is_solved_as_numpy_solves_it(rows):
    if abs(np.linalg.det(rows)) < 1e-3:
        return
    assert solve(rows, [1.0, 2.0, 3.0]) == pytest.approx(list(np.linalg.solve(rows, [1.0, 2.0, 3.0])), rel=1e-6)


def test_dependent_rows_have_no_solution():
    assert solve([[1.0, 2.0], [2.0, 4.0]], [1.0, 2.0]) is None
