"""A run as whoever faces it sees it. Left and right faces are as seen while walking from the start of the wall."""

from dataclasses import replace

from jobs.core.ordering.line_pieces import LinePiece, curves_from_left, left_out_mm, starts_at
from jobs.core.ordering.order_lines import StatedCurve, StatedPiece, StatedRadius, StatedRun
from jobs.core.trim.trim_order import MEASURED_AT

BENDS = StatedCurve(1, "concave", 3000.0, 900.0), StatedCurve(2, "convex", 4000.0, 600.0)
RADIUS = StatedRadius(1, "concave", 3000.0, MEASURED_AT["left"], 1900.0)
RUN = StatedRun("W", "Base", "P", "", "", "", "true arc", (RADIUS,), (1500.0,), 0, None, (), ())


def on(face):
    return replace(RUN, radii=(replace(RADIUS, measured_at=MEASURED_AT[face]),))


def test_the_start_of_the_right_face_is_at_the_left_of_whoever_faces_it():
    assert [starts_at(on(face)) for face in ("right", "left")] == ["left", "right"]
    assert starts_at(replace(RUN, radii=())) is None


def test_a_piece_of_two_bends_is_told_from_its_left_end_on():
    piece = LinePiece(1, "W", "Base", 1, 1500.0, BENDS)
    assert curves_from_left(on("right"), piece) == BENDS and curves_from_left(on("left"), piece) == BENDS[::-1]


def test_what_no_piece_follows_of_an_arc_is_left_out():
    """1900 of arc less the 900 that the piece follows of it."""
    assert left_out_mm(replace(RUN, pieces=(StatedPiece(1, BENDS),)), RADIUS) == 1000.0
    assert left_out_mm(RUN, RADIUS) is None
