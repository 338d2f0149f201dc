"""The dimension asked for in a field check, in red on the wall in plan."""

import math

import pytest

from jobs.drawings.plan.asked import asked_points, asked_svg
from jobs.drawings.plan.plan_view import PlanView
from tests.jobs.drawings.walls import dental

PLACES = ["height", "openings[0].width", "openings[9].width", "pieces[0].radius", "pieces[7].rise", "ends.start"]


def test_chord_and_rise_are_drawn_as_long_as_they_are():
    view = PlanView(dental(), 1.0)

    def length(place):
        points = asked_points(view, place)
        return math.dist(points[0], points[-1])

    # Larkmoor Dental: chord 168 in, rise 30 in, on the convex framing face.
    assert length("pieces[0].chord") == pytest.approx(168 * 25.4, abs=0.01)
    assert length("pieces[0].rise") == pytest.approx(30 * 25.4, abs=0.01)


@pytest.mark.parametrize("place", PLACES)
def test_whatever_is_asked_has_one_red_line_and_its_name(place):
    svg = asked_svg(dental(), place, words="Rise", title="Wall").svg
    assert svg.count('class="red"') == 1 and "Rise</text>" in svg
