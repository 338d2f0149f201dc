"""Lengths in inches are those of the worked examples."""

import math
import re
from itertools import pairwise

import pytest

from catalog.drawings.svg import DrawingInputError
from jobs.drawings.faces.face_figures import trim_mark
from jobs.drawings.faces.face_view import FaceView, TrimBand
from jobs.drawings.faces.faces import face_pair_svg, face_svg
from tests.jobs.drawings.reading import SVG, parsed, paths, steps, texts
from tests.jobs.drawings.walls import (
    INCH,
    WALLS,
    boards_of,
    boutique,
    column,
    dental,
    framing_of,
    kinked,
    library,
    straight_with_window,
)


def outline(svg: str) -> list[tuple[float, float]]:
    (d,) = [d for d in paths(svg, "ink") if d.endswith("Z")]
    return [(figures[0], figures[1]) for _, figures in steps(d) if figures]


def openings(svg: str) -> list[dict[str, float]]:
    drawn = [element for element in parsed(svg).iter(f"{SVG}rect") if element.get("class") == "opening-edge"]
    return [{side: float(rect.get(side)) for side in ("x", "y", "width", "height")} for rect in drawn]


def lines(svg: str, css: str) -> list[tuple[float, ...]]:
    return [tuple(figure for _, figures in steps(d) for figure in figures) for d in paths(svg, css)]


@pytest.mark.parametrize(
    ("wall", "face", "length_in"),
    [
        (dental, "left", 176.280),
        (dental, "right", 182.626),
        (boutique, "left", 229.796),
        (boutique, "right", 231.007),
        (library, "left", 60.0 * math.pi),
    ],
)
def test_the_developed_face_is_as_long_as_the_worked_example_says(wall, face, length_in):
    picture = face_svg(wall(), face, title="Face")
    xs = [x for x, _ in outline(picture.svg)]
    assert (max(xs) - min(xs)) * picture.ratio / INCH == pytest.approx(length_in, abs=0.01)


@pytest.mark.parametrize("name", sorted(WALLS))
def test_both_faces_are_drawn_as_long_as_the_curve_has_them(name):
    curve = WALLS[name]()
    for picture, line in zip(face_pair_svg(curve, titles=("L", "R")), ("left", "right"), strict=True):
        xs = [x for x, _ in outline(picture.svg)]
        tolerance = 0.002 * picture.ratio
        assert (max(xs) - min(xs)) * picture.ratio == pytest.approx(curve.length_mm(f"{line}_finished"), abs=tolerance)


def test_both_faces_of_a_wall_share_one_scale():
    curve = library()
    alone = {face: face_svg(curve, face, title="F").ratio for face in ("left", "right")}
    left, right = face_pair_svg(curve, titles=("L", "R"))
    assert left.ratio == right.ratio == max(alone.values())


def test_the_opening_takes_out_of_each_face_what_the_worked_example_says():
    picture = face_svg(dental(), "left", title="Desk side")
    (rect,) = openings(picture.svg)
    assert rect["width"] * picture.ratio / INCH == pytest.approx(38.646, abs=0.005)
    assert rect["height"] * picture.ratio / INCH == pytest.approx(83, abs=0.005)
    assert rect["y"] + rect["height"] == pytest.approx(0.0)


def test_a_window_stands_on_its_sill():
    picture = face_svg(straight_with_window(), "right", title="Window")
    (rect,) = openings(picture.svg)
    assert -(rect["y"] + rect["height"]) * picture.ratio / INCH == pytest.approx(36, abs=0.005)
    assert rect["x"] * picture.ratio / INCH == pytest.approx(48, abs=0.005)


def test_who_faces_the_left_side_sees_the_walk_from_right_to_left():
    curve = library()
    for face, low_end, first in (("right", min, "Start"), ("left", max, "End")):
        svg = face_svg(curve, face, title="F").svg
        corners = outline(svg)
        at_start = low_end(x for x, _ in corners)
        lowest = max(y for x, y in corners if abs(x - at_start) < 1e-6 and y < -1)
        highest = min(y for _, y in corners)
        assert lowest / highest == pytest.approx(96 / 114, abs=1e-3)
        ends = [text for text in texts(svg) if text in ("Start", "End")]
        assert ends[0] == first


def test_a_sloping_ceiling_is_drawn_at_each_of_its_stations():
    curve = library()
    picture = face_svg(curve, "right", title="F")
    view = FaceView(curve, "right", picture.ratio)
    drawn = outline(picture.svg)
    for along, height in curve.heights.stations:
        assert any(math.dist(point, (view.x(view.developed(along)), view.y(height))) < 0.01 for point in drawn)


def test_a_step_in_the_ceiling_is_upright():
    picture = face_svg(kinked(), "right", title="F", system="metric")
    corners = outline(picture.svg)
    ceiling = [corner for corner in corners if corner[1] < -1]
    steps_up = [(a, b) for a, b in pairwise(ceiling) if abs(a[0] - b[0]) < 1e-6]
    assert [abs(a[1] - b[1]) for a, b in steps_up] == [pytest.approx(300 / picture.ratio, abs=0.002)]


def test_stud_lines_stand_at_the_stations_and_never_in_an_opening():
    curve = dental()
    framing = framing_of(curve)
    picture = face_svg(curve, "right", title="F", framing=framing)
    (rect,) = openings(picture.svg)
    view = FaceView(curve, "right", picture.ratio)
    drawn = lines(picture.svg, "centre")
    expected = sorted({round(view.x(view.developed(s.along_mm)), 2) for s in framing.stations})
    assert sorted({round(x, 2) for x, _, _, _ in drawn}) == pytest.approx(expected, abs=0.011)
    for x, foot, _, head in drawn:
        inside = rect["x"] + 0.1 < x < rect["x"] + rect["width"] - 0.1
        assert not (inside and max(foot, head) > rect["y"] + 0.01)


@pytest.mark.parametrize("wall", [dental, boutique, column])
def test_every_joint_of_the_board_plan_is_drawn_at_its_place(wall):
    curve = wall()
    framing = framing_of(curve)
    for face in ("left", "right"):
        plan = boards_of(curve, face, framing)
        picture = face_svg(curve, face, title="F", boards=plan)
        view = FaceView(curve, face, picture.ratio)
        drawn = lines(picture.svg, "joint")
        upright = {round(line[0], 1) for line in drawn if abs(line[0] - line[2]) < 1e-6}
        for joint in plan.layers[-1].joints:
            x = view.x(view.developed(joint.along_mm))
            assert any(abs(x - at) < 0.11 for at in upright)
        flat = {-line[1] * picture.ratio for line in drawn if abs(line[1] - line[3]) < 1e-6}
        for joint in plan.layers[-1].horizontal_joints:
            assert any(abs(joint.height_mm - height) < 1 for height in flat)


def test_a_base_stops_at_the_door_and_runs_under_a_window():
    band = TrimBand("Base", 5.25 * INCH)

    def bands(curve):
        drawn = parsed(face_svg(curve, "right", title="F", trims=(band,)).svg).iter(f"{SVG}rect")
        return [rect for rect in drawn if rect.get("class") == "fill-tint"]

    assert len(bands(dental())) == 2
    assert len(bands(straight_with_window())) == 1


def test_the_base_of_the_dental_wall_is_drawn_at_its_net_length():
    picture = face_svg(dental(), "right", title="F", trims=(TrimBand("Base", 5.25 * INCH),))
    drawn = [r for r in parsed(picture.svg).iter(f"{SVG}rect") if r.get("class") == "fill-tint"]
    length_in = sum(float(rect.get("width")) for rect in drawn) * picture.ratio / INCH
    assert length_in == pytest.approx(143.99, abs=0.01)  # worked example, convex face


def test_the_figures_of_the_face_are_written_out():
    text = texts(face_svg(dental(), "left", title="F").svg)
    assert "14' 8-1/4\" along the left finished face" in text
    assert "9' 0\"" in text
    assert "3' 2-5/8\"" in text


def test_names_of_the_bow_change_with_the_turn():
    for face, bows in (("left", ("concave", "convex")), ("right", ("convex", "concave"))):
        text = [words for words in texts(face_svg(boutique(), face, title="F").svg) if re.match("conc|conv", words)]
        assert tuple(words.split(",")[0] for words in text) == bows


def test_a_plan_of_the_other_face_is_refused():
    curve = dental()
    plan = boards_of(curve, "left", framing_of(curve))
    with pytest.raises(DrawingInputError, match="boards: the plan is of the left face, not of the right one"):
        face_svg(curve, "right", title="F", boards=plan)


@pytest.mark.parametrize(("height", "foot"), [(0.0, 0.0), (math.nan, 0.0), (10.0, -1.0), (10.0, math.inf)])
def test_a_trim_band_that_cannot_be_is_refused(height, foot):
    with pytest.raises(DrawingInputError, match="Base: "):
        TrimBand("Base", height, foot)


def test_trims_are_lettered_past_the_alphabet():
    assert [trim_mark(index) for index in (0, 25, 26, 27)] == ["A", "Z", "AA", "AB"]


def test_hostile_names_stay_words():
    hostile = '"><script>x</script>'
    svg = face_svg(dental(hostile), "left", title=hostile, trims=(TrimBand(hostile, 100.0),)).svg
    assert not list(parsed(svg).iter(f"{SVG}script"))
    assert hostile in parsed(svg).find(f"{SVG}desc").text
