"""Arch heads against handbook figures and shapely."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from jobs.core.framing.arch import ArchHead, casing_of, heights_of_arch, outline_of
from jobs.core.measure.survey import SurveyError

SPANS = st.floats(300, 5000)
SHARES = st.floats(0.02, 0.5)


def test_span_96_and_rise_24_are_struck_from_60():
    # Carpentry worked example, "Finding the arc radius".
    head = ArchHead(96.0, 24.0, 80.0)
    assert (head.radius_mm, head.centre_mm, head.crown_mm) == (60.0, 44.0, 104.0)


def test_the_soffit_and_segment_of_radius_12_and_rise_2():
    # Machinery's Handbook 31, p. 50: chord 13.27, arc 14.06, segment area 18.01.
    head = ArchHead(13.2665, 2.0, 0.0)
    assert head.soffit_mm == pytest.approx(14.06, abs=0.01)
    assert head.area_mm2 == pytest.approx(18.01, abs=0.01)


@given(SPANS, SHARES)
def test_the_outline_has_the_area_of_door_and_segment_by_shapely(span, share):
    head = ArchHead(span, span * share, 2000.0)
    assert Polygon(outline_of(head, 2000)).area == pytest.approx(span * 2000.0 + head.area_mm2, rel=1e-6)


@given(SPANS, SHARES, st.floats(0, 20), st.floats(20, 150))
def test_both_edges_of_a_casing_keep_their_distance_from_the_opening(span, share, reveal, width):
    head = ArchHead(span, span * share, 2000.0)
    casing = casing_of(head, reveal, width)
    opening = LineString(outline_of(head, 2000))
    for out, radius, length, leg in (
        (reveal, casing.inner_radius_mm, casing.inner_mm, casing.legs_inner_mm),
        (reveal + width, casing.outer_radius_mm, casing.outer_mm, casing.legs_outer_mm),
    ):
        # The head's end meets its leg: a point on both the circle and the upright.
        x, y = span / 2 + out, leg
        assert math.hypot(x, y - head.centre_mm) == pytest.approx(radius)
        assert length == pytest.approx(2 * radius * math.atan2(x, y - head.centre_mm))
        assert Point(0.0, head.centre_mm + radius).distance(opening) == pytest.approx(out, abs=0.01)
        assert Point(x, 1000.0).distance(opening) == pytest.approx(out)
    assert casing.outer_mm > casing.inner_mm
    assert math.tan(casing.mitre_rad) * width == pytest.approx(casing.legs_outer_mm - casing.legs_inner_mm, abs=1e-6)


def test_a_half_circle_meets_its_legs_at_the_spring_line():
    casing = casing_of(ArchHead(900.0, 450.0, 2000.0), 6.0, 64.0)
    assert (casing.legs_inner_mm, casing.legs_outer_mm) == (pytest.approx(2000.0), pytest.approx(2000.0))
    assert casing.mitre_rad == 0.0


def test_a_flat_arch_lifts_the_mitre_outwards():
    # By hand: span 96, rise 24, R 60, 10 out: cos(asin(58 / 70)) x 70 = 39.19 over the centre at 44.
    casing = casing_of(ArchHead(96.0, 24.0, 80.0), 0.0, 10.0)
    assert casing.legs_inner_mm == pytest.approx(80.0)
    assert casing.legs_outer_mm == pytest.approx(44.0 + 39.19, abs=0.005)


@given(SPANS, SHARES, st.floats(10, 200))
def test_every_height_lies_on_the_circle(span, share, interval):
    head = ArchHead(span, span * share, 2000.0)
    for row in heights_of_arch(head, interval):
        x, y = row.along_mm - span / 2, row.ordinate_mm + head.spring_mm
        assert math.hypot(x, y - head.centre_mm) == pytest.approx(head.radius_mm, abs=0.001)


@pytest.mark.parametrize(
    ("make", "field", "words"),
    [
        (lambda: ArchHead(1000.0, 501.0, 2000.0), "rise", "at most half its span"),
        (lambda: ArchHead(1000.0, 0.0, 2000.0), "rise", "more than zero; 0 was given"),
        (lambda: ArchHead(0.0, 10.0, 2000.0), "span", "the span must be more than zero"),
        (lambda: ArchHead(1000.0, 100.0, -1.0), "spring", "not -1"),
        (lambda: casing_of(ArchHead(1000.0, 100.0, 0.0), -1.0, 70.0), "reveal", "-1 mm was given"),
        (lambda: casing_of(ArchHead(1000.0, 100.0, 0.0), 5.0, 0.0), "width", "0 mm was given"),
        (lambda: heights_of_arch(ArchHead(1000.0, 100.0, 0.0), 0.0), "interval", "more than zero"),
        (lambda: heights_of_arch(ArchHead(5000.0, 100.0, 0.0), 0.1), "interval", "over 2000 rows"),
        (lambda: outline_of(ArchHead(1000.0, 100.0, 0.0), 0), "count", "not 0"),
    ],
)
def test_an_impossible_arch_is_refused_with_its_entry_and_reason(make, field, words):
    with pytest.raises(SurveyError, match=words) as refused:
        make()
    assert refused.value.field == field
