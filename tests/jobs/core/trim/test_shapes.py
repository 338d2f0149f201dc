"""Pieces to a template, half walls with a cap, mitres at kinks, closed columns, spliced track.

Sources: shapely for offsets and mitres; Steiner's formula for parallels of a smooth curve (checked on an ellipse by
shapely); radius x sweep; the dental screen of the worked examples for its track.
"""

import itertools
import math
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString

from catalog.core.materials.specs import Pack
from catalog.core.materials.standards import starter_standards
from jobs.core.framing.framing import TrackRun, frame, track_fasteners
from jobs.core.measure.bending import check_layers, check_track, template_findings
from jobs.core.measure.curve import Curve, curve_of
from jobs.core.measure.findings import Override
from jobs.core.measure.survey import (
    ArcPiece,
    HeightProfile,
    RadiusAngle,
    StraightPiece,
    Survey,
    SurveyError,
    TemplatePiece,
)
from jobs.core.measure.wall_spec import FaceBuild, Layer, TrimRun, WallSpec
from jobs.core.trim.arches_and_backing import laps_mm, shape_notes, track_pieces
from jobs.core.trim.trim import plan_trims
from tests.jobs.core.walls import catalog, fact, inches, material

IN = 25.4
LEVEL = HeightProfile(((0.0, 42 * IN),))
BARE = FaceBuild(())
STEEL = {"stud_depth_mm": 92.075, "left_build_up_mm": 12.7, "right_build_up_mm": 12.7}


def curve(*pieces, heights=LEVEL) -> Curve:
    return curve_of(Survey(tuple(pieces), heights, "centre", **STEEL))


def spec(*pieces, **more) -> WallSpec:
    built = {"left": BARE, "right": BARE} | more
    return WallSpec("w", "Wall", "centre", tuple(pieces), LEVEL, "TRACK", "STUD", **built)


def quarter_ellipse(long_mm: float, short_mm: float) -> LineString:
    turned = [math.pi / 2 * n / 20000 for n in range(20001)]
    return LineString([(long_mm * math.sin(t), short_mm * (1 - math.cos(t))) for t in turned])


def test_the_faces_of_an_ellipse_have_the_lengths_of_its_parallels():
    run = quarter_ellipse(3000.0, 1500.0)
    chord = math.dist(run.coords[0], run.coords[-1])
    laid = curve(TemplatePiece(run.length, chord, math.pi / 2, "Oval"))
    for line in ("left_finished", "right_finished"):
        parallel = run.parallel_offset(abs(laid.offset_mm(line)), line.partition("_")[0], resolution=64)
        assert laid.length_mm(line) == pytest.approx(parallel.length, rel=1e-4)


def test_a_piece_to_a_template_joins_its_neighbours_at_its_chord():
    laid = curve(StraightPiece(1000.0), TemplatePiece(2000.0, 1800.0, math.radians(60), "Oval"), StraightPiece(500.0))
    x, y = laid.pieces[2].start
    assert (x, y) == pytest.approx((1000 + 1800 * math.cos(math.pi / 6), 1800 * math.sin(math.pi / 6)))
    assert laid.end_heading_rad == pytest.approx(math.radians(60))


def test_no_bend_is_checked_on_a_template_and_somebody_must_say_so():
    pieces = (TemplatePiece(2000.0, 1800.0, 0.5),)
    wall, layers = curve(*pieces), FaceBuild((Layer("GB-1/4"),))
    built = spec(*pieces, left=layers)
    checks = check_layers(wall, built, catalog())
    assert {(check.verdict, check.radius_mm, check.least_radius_mm) for check in checks} == {("template", 0.0, None)}
    assert check_track(wall, built, catalog()) == ()
    assert [finding.weight for finding in template_findings(wall, built)] == ["decide", "gap"]
    decided = Override("w/piece-1/template", "The pattern was proved on site", "M. Rowe", "2026-11-20")
    assert template_findings(wall, spec(*pieces, left=layers, overrides=(decided,)))[0].weight == "caution"


def test_the_studs_of_a_template_piece_wait_for_a_spacing():
    pieces = (TemplatePiece(2000.0, 1800.0, 0.5, "Oval"),)
    waiting = frame(curve(*pieces), spec(*pieces), catalog(), starter_standards())
    assert not waiting.is_complete
    assert any(finding.weight == "gap" and "set a spacing" in finding.sentence for finding in waiting.findings)
    assert frame(curve(*pieces), spec(*pieces, stud_spacing_mm=200.0), catalog(), starter_standards()).is_complete


@pytest.mark.parametrize(
    ("field", "figures"), [("chord", (1000.0, 1100.0)), ("length", (-1.0, 5.0)), ("turned", (900.0, 800.0, 7.0))]
)
def test_a_template_piece_that_cannot_be_is_refused(field, figures):
    with pytest.raises(SurveyError) as refused:
        TemplatePiece(*figures)
    assert refused.value.field == field


def base(face="left") -> TrimRun:
    return TrimRun("Base", face, "base", "BASE")


BASE = material("BASE", "trim", "ft", width_mm=fact(100), least_radius_mm=fact(100))


@given(st.floats(5, 80), st.sampled_from(["left", "right"]), st.booleans())
def test_pieces_at_a_kink_end_in_the_mitre_of_the_faces(degrees, face, leftwards):
    kink = math.radians(degrees if leftwards else -degrees)
    pieces = (StraightPiece(2000.0), StraightPiece(1500.0, kink))
    laid = curve(*pieces)
    plan = plan_trims(laid, spec(*pieces, trims=(base(face),)), {"BASE": BASE})[0]
    middle = LineString([(0, 0), laid.pieces[1].start, laid.end])
    offset = abs(laid.offset_mm(plan.line))
    mitred = middle.parallel_offset(offset, face, join_style="mitre", mitre_limit=20)
    assert plan.net_mm == pytest.approx(mitred.length, abs=1e-6)
    assert [math.degrees(mitre.cut_rad) for span in plan.spans for mitre in span.mitres] == pytest.approx(
        [degrees / 2] * 2
    )
    assert {mitre.corner for span in plan.spans for mitre in span.mitres} == {
        "inside" if leftwards == (face == "left") else "outside"
    }


def test_a_kinked_arc_is_mitred_where_its_face_meets_the_next():
    pieces = (ArcPiece(RadiusAngle(1200.0, 1.0), "right"), ArcPiece(RadiusAngle(900.0, 1.2), "left", None, 0.7))
    laid = curve(*pieces)
    for line in ("left_finished", "right_finished"):
        before, after = laid.mitred_mm(laid.kinks[0], line)
        offset = laid.offset_mm(line)
        piece, other = laid.pieces
        end = piece.point_at(1 + before / piece.length_at(offset), offset)
        start = other.point_at(-after / other.length_at(offset), offset)
        assert math.dist(end, start) < 1e-6


def test_a_square_column_has_a_mitre_at_every_corner_and_no_end():
    pieces = (StraightPiece(800.0), *(StraightPiece(800.0, math.pi / 2) for _ in range(3)))
    laid = curve(*pieces)
    plan = plan_trims(laid, spec(*pieces, trims=(base("right"),)), {"BASE": BASE})[0]
    assert [round(span.length_mm, 6) for span in plan.spans] == [800 + laid.stud_depth_mm + 25.4] * 4
    assert all(len(span.mitres) == 2 for span in plan.spans)
    assert [note.key for note in shape_notes(laid, spec(*pieces))] == ["w/closed"]


CAP = material("CAP", "trim", "ft", width_mm=fact(150), least_radius_mm=fact(900), hard_least_radius_mm=fact(900))


def cap_of(*pieces, **more):
    run = TrimRun("Cap", "left", "top", "CAP", "pre_curved")
    return plan_trims(curve(*pieces), spec(*pieces, trims=(run,), **({"top": "free"} | more)), {"CAP": CAP})[0]


def test_a_cap_is_bought_along_its_outer_edge_and_told_by_both_radii():
    sweep = math.radians(100)
    plan = cap_of(StraightPiece(1000.0), ArcPiece(RadiusAngle(1500.0, sweep), "left"))
    assert [span.length_mm for span in plan.spans] == pytest.approx([1000.0, 1575 * sweep])
    arc = plan.cap[1]
    assert (arc.inner_radius_mm, arc.outer_radius_mm) == pytest.approx((1425.0, 1575.0))
    shape = [(r * math.sin(t), r * math.cos(t)) for r in (1425, 1575) for t in (-sweep / 2, sweep / 2)] + [(0, 1575)]
    x0, y0, x1, y1 = LineString(shape).bounds
    assert arc.blank_mm == pytest.approx((x1 - x0, y1 - y0))
    assert [entry.verdict for entry in plan.arcs] == ["flat", "passes"]


def test_a_cap_narrower_than_the_wall_or_under_a_ceiling_asks_for_a_decision():
    pieces = (StraightPiece(1000.0),)
    assert "w/trim-1/top" in {finding.key for finding in cap_of(*pieces, top="ceiling").findings}
    narrow = {"CAP": material("CAP", "trim", "ft", width_mm=fact(90))}
    run = TrimRun("Cap", "left", "top", "CAP")
    plan = plan_trims(curve(*pieces), spec(*pieces, trims=(run,), top="free"), narrow)[0]
    assert [finding.weight for finding in plan.findings if finding.key == "w/trim-1/width"] == ["decide"]


def test_a_half_wall_is_fastened_to_the_floor_only_and_its_studs_are_full_height():
    pieces = (StraightPiece(2000.0),)
    low = frame(curve(*pieces), spec(*pieces, top="free"), catalog(), starter_standards())
    high = frame(curve(*pieces), spec(*pieces), catalog(), starter_standards())
    assert {group.length_mm / IN for group in low.stud_list} == {42.0}
    floor, both = (track_fasteners(framing, starter_standards(), "PIN") for framing in (low, high))
    assert both.value == 2 * floor.value


def test_dental_track_is_cut_from_two_sticks_a_run_and_laps_are_added_where_the_track_has_them():
    sticks = (Pack("T", "10 ft stick", fact(10).value, length_mm=120 * IN),)
    plain = material("T", "track")
    runs = (TrackRun("top", 0, 1, 181.94 * IN), TrackRun("bottom", 0, 1, 143.30 * IN))
    for lap, pieces in ((None, 4), (inches(6), 4)):
        facts = {} if lap is None else {"splice_overlap_mm": lap}
        track = type(plain)(**{**vars(plain), "packs": sticks, "facts": facts})
        cut = track_pieces(runs, track, date(2026, 5, 4))
        assert len(cut) == pieces  # worked example: 2 + 2 apart
        assert laps_mm(runs, cut, "top") / IN == pytest.approx(0 if lap is None else 6)


def test_a_sloped_top_edge_is_a_helix_rolled_out():
    radius, sweep, rise = 1600.0, math.pi, 457.2
    arc = ArcPiece(RadiusAngle(radius, sweep), "left")
    sloped = HeightProfile(((0.0, 2438.4), (radius * sweep, 2438.4 + rise)))
    laid = curve(arc, heights=sloped)
    turns = [(n / 20000) for n in range(20001)]
    offset = laid.offset_mm("right_finished")
    points = [(*laid.pieces[0].point_at(t, offset), rise * t) for t in turns]
    assert laid.top_edge_mm("right_finished", 0.0, laid.centre_length_mm) == pytest.approx(
        sum(math.dist(a, b) for a, b in itertools.pairwise(points)), rel=1e-7
    )
    stepped = HeightProfile(((0.0, 2400.0), (1000.0, 2400.0), (1000.0, 2600.0)))
    assert curve(StraightPiece(2000.0), heights=stepped).top_steps_mm == pytest.approx(200.0)
