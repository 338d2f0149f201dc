"""Arched heads of openings in a straight wall: lengths, areas, cripples, bead, boards, casings.

Sources: Machinery's Handbook 31, p. 79 (R = c^2/8h + h/2); the carpentry worked example chord 96, rise 24 = R 60;
shapely for areas and lengths.
"""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from catalog.core.materials.standards import starter_standards
from jobs.core.boards.board_layout import line_of_layer, surface_of
from jobs.core.framing.edge_radius_check import arch_edges
from jobs.core.framing.framing import Framing, frame
from jobs.core.measure.curve import Curve, curve_of
from jobs.core.measure.survey import (
    ArcPiece,
    HeightProfile,
    Opening,
    OpeningCasing,
    RadiusAngle,
    StraightPiece,
    Survey,
    SurveyError,
)
from jobs.core.measure.wall_spec import FaceBuild, WallEnds, WallSpec
from jobs.core.trim.casings import cased_openings, casing_quantities
from tests.jobs.core.walls import fact, material

IN = 25.4
NINE_FEET = HeightProfile(((0.0, 108 * IN),))
PASS = Opening("Pass", 96 * IN, 96 * IN, 84 * IN, arch_rise_mm=24 * IN)
BARE = FaceBuild(())


def walled(opening: Opening = PASS) -> Curve:
    return curve_of(Survey((StraightPiece(192 * IN),), NINE_FEET, "centre", 92.075, 12.7, 12.7, (opening,)))


def spec(opening: Opening = PASS, **more) -> WallSpec:
    pieces = (StraightPiece(192 * IN),)
    return WallSpec("w", "Wall", "centre", pieces, NINE_FEET, "T", "S", BARE, BARE, (opening,), **more)


def framed(opening: Opening = PASS, **more) -> Framing:
    return frame(walled(opening), spec(opening, **more), {"T": material("T", "track")}, starter_standards())


def test_a_rise_of_24_over_96_is_struck_to_60():
    assert PASS.arch_radius_mm == pytest.approx(60 * IN)
    assert PASS.spring_mm == pytest.approx(60 * IN)
    assert PASS.arch_length_mm / IN == pytest.approx(111.275, abs=0.001)  # worked example: chord 96, rise 24


@given(st.floats(200, 4000), st.floats(0.02, 0.5))
def test_area_and_heights_of_an_arch_agree_with_shapely(span, part):
    opening = Opening("Pass", 5000.0, span, 2 * span, arch_rise_mm=span * part)
    centre = opening.head_mm - opening.arch_radius_mm
    disc = Point(0, centre).buffer(opening.arch_radius_mm, quad_segs=4000)
    above = Polygon([(-span, opening.spring_mm), (span, opening.spring_mm), (span, 9e4), (-span, 9e4)])
    assert opening.arch_area_mm2 == pytest.approx(disc.intersection(above).area, rel=1e-4)
    upright = LineString([(span / 5, opening.spring_mm), (span / 5, 9e4)]).intersection(disc)
    assert opening.head_at(span / 5) == pytest.approx(upright.bounds[3], abs=span * 1e-5)
    assert opening.width_at(opening.head_at(span / 5)) == pytest.approx(2 * span / 5, rel=1e-6)


def test_the_face_loses_the_opening_up_to_its_arch_and_no_more():
    segment = 60**2 * (2 * math.asin(0.8) - math.sin(2 * math.asin(0.8))) / 2  # Machinery's Handbook 31, p. 50
    wanted = 192 * 108 - 96 * 60 - segment
    assert walled().net_area_mm2("left_finished") / IN**2 == pytest.approx(wanted)
    boards = surface_of(line_of_layer(walled(), "left", 0.0, 12.7))
    assert boards.net_area_mm2 / IN**2 == pytest.approx(wanted)


def test_cripples_stand_on_the_arch_each_at_its_height():
    over = [station for station in framed().stations if station.kind == "cripple_over"]
    assert len(over) >= 5
    for entry in over:
        across = entry.along_mm / IN - 96
        assert entry.clear_mm / IN == pytest.approx(108 - (24 + math.sqrt(60**2 - across**2)))


def test_an_arch_takes_bent_track_and_no_level_head():
    kinds = {run.kind: run.length_mm for run in framed().track}
    assert "head" not in kinds
    assert kinds["arch"] == arch_edges(walled())[0].length_mm == PASS.arch_length_mm


def test_two_studs_stand_at_a_free_end_and_one_where_a_wall_is_met():
    ends = [station.count for station in framed(ends=WallEnds("meets", "free", 2)).stations if station.kind == "end"]
    assert ends == [1, 2]


@pytest.mark.parametrize(
    ("field", "opening"),
    [
        ("arch_rise", {"arch_rise_mm": 49 * IN}),
        ("arch_rise", {"arch_rise_mm": 0.0}),
        ("arch_rise", {"arch_rise_mm": math.nan}),
    ],
)
def test_an_arch_that_cannot_be_is_refused_by_its_entry(field, opening):
    with pytest.raises(SurveyError) as refused:
        replace(PASS, **opening)
    assert refused.value.field == field


def test_an_arch_in_an_arc_is_refused_and_says_where_it_may_stand():
    arc = (ArcPiece(RadiusAngle(3000.0, 1.5), "left"),)
    with pytest.raises(SurveyError, match="straight piece") as refused:
        curve_of(
            Survey(arc, NINE_FEET, "centre", 92.075, 12.7, 12.7, (replace(PASS, width_mm=900.0, arch_rise_mm=90.0),))
        )
    assert refused.value.field == "openings[0].arch_rise"


def test_a_casing_has_its_own_inner_and_outer_lengths_on_each_face():
    cased = replace(PASS, casing=OpeningCasing("CASING", None, 5.0, "both"))
    casing = material("CASING", "trim", width_mm=fact(70), hard_least_radius_mm=fact(1600))
    works, findings = cased_openings(walled(cased), spec(cased), {"CASING": casing})
    made = works[0].made[0][1]
    # Concentric with the arch: the circles of radius R + 5 and R + 75, cut where they meet the legs (shapely).
    for radius, half, length in (
        (made.inner_radius_mm, 48 * IN + 5, made.inner_mm),
        (made.outer_radius_mm, 48 * IN + 75, made.outer_mm),
    ):
        head = Point(0, 0).buffer(radius, quad_segs=20000).exterior
        strip = Polygon([(-half, 0), (half, 0), (half, 9e3), (-half, 9e3)])
        assert length == pytest.approx(head.intersection(strip).length, abs=0.05)
    items = casing_quantities(works, spec(cased))
    assert [(item.face, item.material) for item in items] == [("left", "CASING")] * 2 + [("right", "CASING")] * 2
    assert [len(item.pieces_mm) for item in items] == [2, 1, 2, 1]
    assert [finding.key for finding in findings if finding.weight == "decide"] == ["w/opening-1/casing-head/bend"]
