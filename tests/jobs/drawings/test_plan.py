"""Lengths and radii in inches are those of the worked examples (dental, boutique, library)."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.drawings.scales import Scale
from catalog.drawings.svg import DrawingInputError
from jobs.core.measure.curve import curve_of
from jobs.core.measure.survey import ArcPiece, ChordRise, Opening, RadiusAngle, StraightPiece
from jobs.drawings.plan.plan import plan_svg
from jobs.drawings.plan.plan_view import PlanView, level_turn
from tests.jobs.drawings.reading import SVG, arcs, length_of, parsed, paths, steps, texts
from tests.jobs.drawings.walls import INCH, WALLS, boutique, column, dental, framing_of, library, more_than_half, survey


def face_lengths(curve, ratio) -> dict[str, float]:
    """Length of each finished face in inches, measured on the drawn lines."""
    view = PlanView(curve, ratio, level_turn(curve))
    drawn = {}
    for line in ("left_finished", "right_finished"):
        offset = curve.offset_mm(line)
        runs = [view.run(piece, span, offset) for piece in curve.pieces for span in view.solid_spans(piece, line)]
        drawn[line] = sum(length_of(run) for run in runs) * ratio / INCH
    return drawn


@pytest.mark.parametrize(
    ("wall", "left_in", "right_in"),
    [
        (boutique, 229.796, 231.007),
        (library, 60.0 * math.pi, 64.625 * math.pi),
        # Dental, the flat frame of 38-1/2 in taken out: 38.646 in on the concave finished face.
        (dental, 176.280 - 38.646, 143.99),
    ],
)
def test_the_drawn_faces_are_as_long_as_the_worked_example_says(wall, left_in, right_in):
    drawn = face_lengths(wall(), 48)
    assert drawn["left_finished"] == pytest.approx(left_in, abs=0.02)
    assert drawn["right_finished"] == pytest.approx(right_in, abs=0.02)


# The wall of sixty feet is broken: its second stretch stands elsewhere on the sheet.
@pytest.mark.parametrize("name", sorted(set(WALLS) - {"sixty_feet"}))
def test_every_finished_face_in_the_drawing_is_one_of_the_curves_arcs(name):
    curve = WALLS[name]()
    picture = plan_svg(curve, title=name)
    view = PlanView(curve, picture.ratio, level_turn(curve))
    known = [
        (view.centre_of(piece), piece.radius_at(curve.offset_mm(line)) / picture.ratio)
        for piece in curve.pieces
        if piece.is_arc
        for line in ("left_finished", "right_finished")
    ]
    drawn = [arc for css in ("ink", "thin") for d in paths(picture.svg, css) for arc in arcs(d)]
    outer = [arc for arc in drawn if any(abs(arc[2] - radius) < 0.001 for _, radius in known)]
    assert bool(outer) == any(piece.is_arc for piece in curve.pieces)
    for _, centre, radius, angle, _ in outer:
        assert abs(angle) < math.pi
        assert any(math.dist(centre, at) < 0.05 and abs(radius - r) < 0.001 for at, r in known)


@pytest.mark.parametrize("name", sorted(WALLS))
def test_arcs_begin_and_end_where_the_curve_says(name):
    curve = WALLS[name]()
    # Unturned and at full size the paper is the plan itself, flipped.
    view = PlanView(curve, 1.0)
    for piece in curve.pieces:
        for line in ("left_finished", "centre", "right_framing"):
            offset = curve.offset_mm(line)
            says = steps(view.run(piece, (0.0, 1.0), offset))
            for share, (_, figures) in ((0.0, says[0]), (1.0, says[-1])):
                x, y = piece.point_at(share, offset)
                assert (figures[-2], -figures[-1]) == pytest.approx((x, y), abs=0.001)


def test_an_arc_bows_to_the_side_it_turns_to():
    for turn, sign in (("left", -1), ("right", 1)):
        curve = curve_of(survey([ArcPiece(RadiusAngle(1000.0, 1.0), turn)], 96, "centre"))
        ((_, centre, _, angle, _),) = arcs(PlanView(curve, 1.0).run(curve.pieces[0], (0.0, 1.0), 0.0))
        # Walking +x, a left turn has its centre at the left, which is up: negative y on paper.
        assert math.copysign(1, centre[1]) == sign
        assert math.copysign(1, angle) == sign


def test_more_than_half_a_circle_is_split_so_that_no_renderer_can_mistake_it():
    curve = more_than_half()
    run = PlanView(curve, 1.0).run(curve.pieces[0], (0.0, 1.0), 0.0)
    assert len(arcs(run)) == 2
    # Chord 100, rise 80: R 55.625 on the measured line (features, row 6), the centreline half a stud inside.
    assert length_of(run) == pytest.approx((55.625 - 3.625 / 2) * INCH * curve.pieces[0].sweep_rad, abs=0.01)


def test_the_names_of_the_faces_change_side_with_the_turn():
    text = texts(plan_svg(boutique(), title="Lobby").svg)
    assert {"1 Left face, concave", "1 Right face, convex"} <= set(text)
    assert {"2 Left face, convex", "2 Right face, concave"} <= set(text)
    assert {"3 Left face", "3 Right face"} <= set(text)


def test_left_is_drawn_to_the_left_of_the_walk():
    curve = boutique()
    picture = plan_svg(curve, title="Lobby")
    view = PlanView(curve, picture.ratio, level_turn(curve))
    placed = {"".join(t.itertext()): t for t in parsed(picture.svg).iter(f"{SVG}text")}
    for piece, bow in zip(curve.pieces, (("concave", "convex"), ("convex", "concave"), None), strict=True):
        for face, side in (("left", 1), ("right", -1)):
            name = f"{piece.index + 1} {face.capitalize()} face"
            if bow:
                name += f", {bow[0] if face == 'left' else bow[1]}"
            x, y = float(placed[name].get("x")), float(placed[name].get("y"))
            share = min((i / 20 for i in range(21)), key=lambda s: math.dist(view.at(piece, s, 0.0), (x, y)))
            ax, ay = view.at(piece, share, 0.0)
            ahead = view.at(piece, min(share + 0.01, 1.01), 0.0)
            cross = (ahead[0] - ax) * (y - ay) - (ahead[1] - ay) * (x - ax)
            # y runs down on paper: what is to the left of the walk has a negative cross product.
            assert math.copysign(1, -cross) == side, name


def test_the_dental_figures_are_written_out():
    text = " ".join(texts(plan_svg(dental(), title="Screen").svg))
    for figure in ("Chord 14' 0\"", "Rise 2' 6\"", "R 11' 0-5/8\" convex framing", "15' 2-5/8\"", "14' 8-1/4\""):
        assert figure in text


def test_an_opening_breaks_both_faces_and_has_jambs():
    curve = dental()
    picture = plan_svg(curve, title="Screen")
    assert len([d for d in paths(picture.svg, "ink") if arcs(d)]) == 4
    plain = curve_of(survey([ArcPiece(ChordRise(168 * INCH, 30 * INCH), "left")], 108, "convex_framing"))
    unbroken = plan_svg(plain, title="Screen")
    assert len([d for d in paths(unbroken.svg, "ink") if arcs(d)]) == 2
    assert len(paths(picture.svg, "hidden")) == 2
    assert not paths(unbroken.svg, "hidden")


def test_the_jambs_of_a_flat_frame_are_parallel_and_its_width_apart():
    curve = dental()
    view = PlanView(curve, 1.0)
    (piece,), (laid,) = curve.pieces, curve.openings
    ends = []
    for side in (0, 1):
        line_ends = [
            view.at(piece, view.share_span(piece, laid, line)[side], curve.offset_mm(line))
            for line in ("left_finished", "right_finished")
        ]
        ends.append(line_ends)
    for index in (0, 1):
        assert math.dist(ends[0][index], ends[1][index]) == pytest.approx(38.5 * INCH, abs=1e-6)


def test_a_stud_is_drawn_at_every_station_the_plan_cuts():
    curve = library()
    framing = framing_of(curve)
    assert len(framing.stations) == 27  # worked example: 27 stations at 8 in
    with_studs = len(paths(plan_svg(curve, title="Nook", framing=framing).svg, "thin"))
    without = len(paths(plan_svg(curve, title="Nook").svg, "thin"))
    assert with_studs - without == 27


def test_a_column_is_drawn_without_ends():
    text = texts(plan_svg(column(), title="Column").svg)
    assert "Start" in text
    assert "End" not in text


def test_the_stated_scale_is_the_one_drawn():
    curve = library()
    for scale in (Scale(32, "imperial"), Scale(50, "metric")):
        picture = plan_svg(curve, title="Nook", system=scale.system, scale=scale)
        assert picture.ratio == scale.ratio
        assert f"Scale {scale.text}" in texts(picture.svg)
        radii = {round(arc[2], 2) for d in paths(picture.svg, "ink") for arc in arcs(d)}
        assert radii == {round(r * INCH / scale.ratio, 2) for r in (60.0, 64.625)}


FT = 304.8


@pytest.mark.parametrize(
    ("long_ft", "ratio", "rows"),
    [
        # 174 mm of paper are 174 x 24 = 4,176 mm or 13.70 ft of wall at 1/2" to the foot; 27.40 ft at 1/4".
        (13.5, 24, 1), (13.9, 32, 1), (27.0, 48, 1), (27.6, 64, 1),
        # 36.53 ft at 3/16", 54.80 ft at 1/8": longer walls stay at 1/8" and are broken, once every 54.80 ft.
        (36.4, 64, 1), (37.0, 96, 1), (54.6, 96, 1), (55.0, 96, 2), (109.0, 96, 2), (110.0, 96, 3),
    ],
)  # fmt: skip
def test_the_scale_is_the_largest_step_that_174_mm_hold_and_a_longer_wall_is_broken(long_ft, ratio, rows):
    curve = curve_of(survey([StraightPiece(long_ft * FT)], 96, "centre"))
    picture = plan_svg(curve, title="Wall", max_height_mm=210)
    assert (picture.ratio, picture.width_mm) == (ratio, 174)
    assert len(list(parsed(picture.svg).iter(f"{SVG}clipPath"))) == (rows if rows > 1 else 0)


def test_labels_never_set_the_scale():
    """Half a circle of R 60 in is 129.25 in or 3,283 mm across its right face: 1:24, as 174 mm hold 4,176."""
    long = Opening("A door with a name that runs on and on " * 3, 90 * INCH, 30 * INCH, 80 * INCH)
    curve = curve_of(survey([ArcPiece(RadiusAngle(60 * INCH, math.pi), "left")], 96, "concave_finished", [long]))
    assert plan_svg(curve, title="Nook").ratio == plan_svg(library(), title="Nook").ratio == 24


def test_a_radius_longer_than_the_wall_is_broken():
    """R 100 ft over 20 ft: the wall is 190 mm at 1:32, so drawn at 1:48; whole, the radius would be 635 mm."""
    curve = curve_of(survey([ArcPiece(RadiusAngle(100 * FT, 0.2), "left")], 96, "centre"))
    picture = plan_svg(curve, title="Flat arc")
    assert picture.ratio == 48
    assert picture.height_mm < 80


def test_a_sheet_too_small_for_any_plan_is_refused():
    with pytest.raises(DrawingInputError, match="at least 120 by 60 mm; 40 by 150 was given"):
        plan_svg(library(), title="Nook", width_mm=40)


HOSTILE = "<script>alert(1)</script>\"'&\x00\x0b\u202e]]>"


def test_a_hostile_name_stays_words():
    svg = plan_svg(dental(HOSTILE), title=HOSTILE).svg
    root = parsed(svg)
    assert not list(root.iter(f"{SVG}script"))
    assert root.find(f"{SVG}title").text == "<script>alert(1)</script>\"'&]]>"
    assert any(text.startswith("<script>alert") for text in texts(svg))
    assert not re.search("[\x00\x0b\u202e]", svg)


pieces = st.one_of(
    st.builds(
        lambda radius, degrees, turn, kink: ArcPiece(RadiusAngle(radius, math.radians(degrees)), turn, None, kink),
        st.floats(150, 20_000), st.floats(1, 350), st.sampled_from(["left", "right"]), st.floats(-1, 1),
    ),
    st.builds(StraightPiece, st.floats(50, 20_000), st.floats(-1, 1)),
)  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(st.lists(pieces, min_size=1, max_size=6), st.sampled_from(["imperial", "metric"]))
def test_any_wall_can_be_drawn_and_its_lines_are_true(chain, system):
    curve = curve_of(survey(chain, 96, "centre"))
    picture = plan_svg(curve, title="Any", system=system)
    assert parsed(picture.svg).get("role") == "img"
    drawn = face_lengths(curve, 1.0)
    for line, length_in in drawn.items():
        assert length_in == pytest.approx(curve.length_mm(line) / INCH, rel=1e-4, abs=0.01)


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 60), st.floats(200, 3000))
def test_a_wall_of_many_pieces_is_drawn_too(count, radius):
    chain = [ArcPiece(RadiusAngle(radius, 0.4), "left" if i % 2 else "right") for i in range(count)]
    opening = Opening("Door", radius * 0.2, radius * 0.05 + 20, 2000.0)
    curve = curve_of(survey(chain, 96, "centre", [opening]))
    assert parsed(plan_svg(curve, title="Many").svg) is not None
