"""What would pass where a board fails: from the catalog's limits, never more than they say.

Limits: GA-226-08, Table 1, dry; the damp one of 1/4 in board is the remembered 30 in, unverified.
"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.core.measure.bending import BendCheck, check_layers, findings, judge
from jobs.core.measure.findings import Override
from jobs.core.measure.survey import ArcPiece, RadiusAngle
from jobs.core.measure.wall_spec import FaceBuild, Layer
from jobs.core.trim.arches_and_backing import shape_notes
from tests.jobs.core.walls import IN, board, catalog, inches, wall_of

DAMP = board("1/4", lengthwise_damp_least_radius_mm=inches(30, "memory", "Remembered; unverified"))
BARE = FaceBuild(())
KEY = "wall/left/layer-1/piece-1/bend"


def bent(radius_in: float, code: str = "GB-1/4", **more):
    """A wall whose left face is bent so tight, and its one layer."""
    pieces = (ArcPiece(RadiusAngle(radius_in * IN, 1.5), "left"),)
    build = {"left": FaceBuild((Layer(code),)), "right": BARE} | more
    return wall_of(pieces, "left_framing", 96, build_up=0, **build)


def checked(curve, wall, *more) -> BendCheck:
    return check_layers(curve, wall, catalog(*more))[0]


def test_a_thin_board_that_fails_dry_is_said_to_pass_damp_and_how_sure_that_is():
    # Room surface at 59.5 - 0.25 = 59.25 in, under 60; 60 - 59.25 = 0.75 more on every line.
    check = checked(*bent(59.5), DAMP)
    assert check.verdict == "fails"
    assert "This would pass: GB-1/4 board damp, from R 30.00 in (unverified)" in check.sentence
    # The centreline lies 3.625 / 2 = 1.8125 outside the left framing face: 59.5 + 1.8125 + 0.75 = 62.06.
    assert "bent to R 62.06 in or more on its centreline" in check.sentence


def test_a_thick_board_that_fails_is_sent_to_two_thin_layers_by_the_published_limit():
    # Half inch at 100 in: under its 120, over 90 of the 3/8 in and 60 of the 1/4 in.
    check = checked(*bent(100, "GB-1/2"))
    assert "two layers of GB-1/4 board, from R 60.00 in (published)" in check.sentence
    assert "GB-3/8 board, from R 90.00 in (published)" in check.sentence


def test_a_board_bent_across_its_sheet_is_sent_along_it():
    check = checked(*bent(100, left=FaceBuild((Layer("GB-3/8", "widthwise"),))))
    assert check.would_pass[0].direction == "lengthwise"
    assert "GB-3/8 board lengthwise, from R 90.00 in (published)" in check.sentence


@pytest.mark.parametrize(("more", "expected"), [((DAMP,), []), ((), ["wall/left/piece-1/corner"])])
def test_no_board_follows_is_said_only_where_none_of_the_catalog_does(more, expected):
    curve, wall = bent(59.5)
    notes = shape_notes(curve, wall, check_layers(curve, wall, catalog(*more)))
    assert [note.key for note in notes] == expected


def test_nothing_contradicts_a_decision_that_a_board_follows_all_the_same():
    decided = Override(KEY, "A mock-up held", "M. Rowe", "2026-11-20", original=59.25 * IN)
    curve, wall = bent(59.5, overrides=(decided,))
    checks = check_layers(curve, wall, catalog())
    assert checks[0].verdict == "overridden" and "would" not in checks[0].sentence
    assert [finding.weight for finding in findings(checks)] == ["caution"]
    assert shape_notes(curve, wall, checks) == ()


@given(st.floats(10, 400), st.sampled_from(["GB-1/4", "GB-3/8", "GB-1/2", "GB-5/8"]))
def test_whatever_is_offered_passes_when_it_is_hung(radius_in, code):
    check = checked(*bent(radius_in, code), DAMP)
    boards = catalog(DAMP)
    for way in check.would_pass:
        layers = (Layer(way.board, way.direction, way.moisture),) * way.layers
        curve, wall = bent(radius_in, left=FaceBuild(layers))
        assert {layer.verdict for layer in check_layers(curve, wall, boards)} == {"passes"}
        assert judge(boards[way.board], way.direction, way.moisture, way.least_radius_mm).sure == way.sure


def test_a_board_that_passes_is_offered_nothing():
    check = checked(*bent(100), DAMP)
    assert (check.verdict, check.would_pass) == ("passes", ())
    assert replace(check, would_pass=()) == check
