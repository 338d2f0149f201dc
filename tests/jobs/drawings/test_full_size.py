import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.drawings.svg import DrawingInputError
from jobs.core.measure.curve import curve_of
from jobs.core.measure.survey import ArcPiece, HeightProfile, RadiusAngle, StraightPiece, Survey
from jobs.drawings.plan.full_size import OVERLAP_MM, Template, clipped, lay_out
from jobs.drawings.plan.full_size_sheet import overview, sheet_name, sheets

A4 = (190.0, 277.0)


def arc_of(radius: float, degrees: float, turn: str = "left"):
    pieces = (ArcPiece(RadiusAngle(radius, math.radians(degrees)), turn), StraightPiece(500.0))
    return curve_of(Survey(pieces, HeightProfile(((0.0, 2400.0),)), "centre", 92.0, 12.0, 12.0))


def lengths_by_line(layout) -> dict[str, float]:
    """Length drawn of each line with every overlap counted once: what lies in the middle of each window."""
    half = OVERLAP_MM / 2
    inner = tuple(side - OVERLAP_MM for side in layout.grid.window)
    lengths: dict[str, float] = {}
    for strokes in layout.taken.values():
        for stroke in (entry for entry in strokes if entry.name):
            for each, other in zip(stroke.points, stroke.points[1:], strict=False):
                part = clipped(*(((x - half), (y - half)) for x, y in (each, other)), inner)
                lengths[stroke.name] = lengths.get(stroke.name, 0.0) + (math.dist(*part) if part else 0.0)
    return lengths


# Radius x sweep, plane geometry: 1200 mm through 50 degrees, with faces 58 mm to either side.
def test_laid_together_the_sheets_hold_the_whole_length_of_every_line():
    values = lengths_by_line(lay_out(Template("Screen", arc_of(1200.0, 50), 0, A4)))
    sweep = math.radians(50)
    wanted = {"left finished": 1142.0, "left framing": 1154.0, "centreline": 1200.0, "right framing": 1246.0}
    wanted["right finished"] = 1258.0
    assert values == {name: pytest.approx(radius * sweep, abs=0.05) for name, radius in wanted.items()}


@settings(max_examples=40, deadline=None)
@given(st.floats(300, 4000), st.floats(5, 200), st.sampled_from(["left", "right"]))
def test_whatever_the_arc_no_part_of_it_is_left_out(radius, degrees, turn):
    degrees = min(degrees, math.degrees(3000 / radius))
    values = lengths_by_line(lay_out(Template("Screen", arc_of(radius, degrees, turn), 0, A4)))
    assert values["centreline"] == pytest.approx(math.radians(degrees) * radius, abs=0.1)


def test_a_stretch_is_measured_along_the_longer_finished_face():
    values = lengths_by_line(lay_out(Template("Screen", arc_of(1200.0, 120), 0, A4, stretch_mm=1000.0)))
    assert values["right finished"] == pytest.approx(1000.0, abs=0.05)


def test_every_sheet_holds_something_of_its_own():
    layout = lay_out(Template("Screen", arc_of(1200.0, 50), 0, A4))
    half, inner = OVERLAP_MM / 2, tuple(side - OVERLAP_MM for side in layout.grid.window)
    for strokes in layout.taken.values():
        pairs = ((a, b) for stroke in strokes for a, b in zip(stroke.points, stroke.points[1:], strict=False))
        assert any(clipped(*((x - half, y - half) for x, y in pair), inner) for pair in pairs)


def test_an_arc_of_too_many_sheets_is_refused_with_a_way_on():
    with pytest.raises(
        DrawingInputError, match=r"takes \d+ sheets at full size, and 60 are the most.*Ask for a stretch"
    ):
        lay_out(Template("Screen", arc_of(9000.0, 90), 0, A4))
    assert len(lay_out(Template("Screen", arc_of(9000.0, 90), 0, A4, stretch_mm=1200.0)).taken) < 20


def test_an_arc_of_kilometres_is_refused_at_once():
    with pytest.raises(DrawingInputError, match="too large for paper"):
        lay_out(Template("Screen", arc_of(900_000.0, 60), 0, A4))


@pytest.mark.parametrize("piece", [1, 2, -1])
def test_a_template_is_made_of_an_arc(piece):
    with pytest.raises(DrawingInputError, match="is not an arc of this wall"):
        Template("Screen", arc_of(1200.0, 50), piece, A4)


def test_each_sheet_names_its_neighbours_on_the_lines_they_share():
    layout = lay_out(Template("Screen", arc_of(1200.0, 50), 0, A4))
    by_name = {sheet.name: sheet.svg for sheet in sheets(layout)}
    for row, column in layout.taken:
        if (row, column + 1) in layout.taken:
            here, there = sheet_name((row, column)), sheet_name((row, column + 1))
            assert f">{there}</text>" in by_name[here]
            assert f">{here}</text>" in by_name[there]


def test_the_overview_shows_every_sheet():
    layout = lay_out(Template("Screen", arc_of(1200.0, 50), 0, A4))
    assert len(re.findall("<rect", overview(layout))) == len(layout.taken) == len(sheets(layout))
