from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.core.measure.bending import (
    check_layers,
    check_track,
    decision_at,
    findings,
    judge,
    practice_notes,
    spacing_limits,
)
from jobs.core.measure.findings import Override
from jobs.core.measure.survey import ArcPiece, RadiusAngle
from jobs.core.measure.wall_spec import FaceBuild, Layer
from tests.jobs.core.walls import (
    GA_BOARDS,
    GA_TABLE,
    IN,
    TWO_THIN,
    board,
    boutique,
    catalog,
    childcare,
    dental,
    fact,
    inches,
    library,
    material,
    wall_of,
)

# Gypsum Association GA-226-08, Table 1, dry: every row, both ways.
LENGTHWISE = [(size, row[1]) for size, row in GA_BOARDS.items()]
WIDTHWISE = [(size, row[2]) for size, row in GA_BOARDS.items() if row[2]]


@pytest.mark.parametrize(("size", "least"), LENGTHWISE)
def test_dry_lengthwise_passes_at_the_table_radius_and_fails_just_under(size, least):
    assert judge(board(size), "lengthwise", "dry", least * IN).verdict == "passes"
    assert judge(board(size), "lengthwise", "dry", (least - 0.01) * IN).verdict == "fails"


@pytest.mark.parametrize(("size", "least"), WIDTHWISE)
def test_dry_widthwise_passes_at_the_table_radius_and_fails_just_under(size, least):
    assert judge(board(size), "widthwise", "dry", least * IN).verdict == "passes"
    assert judge(board(size), "widthwise", "dry", (least - 0.01) * IN).verdict == "fails"


@pytest.mark.parametrize("size", ["1/2", "5/8"])
def test_thick_board_may_not_be_bent_widthwise_dry_at_any_radius(size):
    # GA-226-08, Table 1: not permitted.
    assert judge(board(size), "widthwise", "dry", 5000 * IN).verdict == "not_permitted"


def test_half_inch_board_fails_at_111_and_passes_at_120():
    assert judge(board("1/2"), "lengthwise", "dry", 111 * IN).verdict == "fails"
    assert judge(board("1/2"), "lengthwise", "dry", 120 * IN).verdict == "passes"


def test_quarter_inch_passes_at_60_where_one_half_inch_layer_fails():
    # GA-226-08, Table 1: two 1/4 in layers may be bent one after the other to the 1/4 in radius.
    assert judge(board("1/4"), "lengthwise", "dry", 60 * IN).verdict == "passes"
    assert judge(board("1/2"), "lengthwise", "dry", 60 * IN).verdict == "fails"


def test_the_verdict_names_its_figures_and_source():
    answer = judge(board("1/2"), "lengthwise", "dry", 111 * IN)
    assert "111.00 in is tighter than the least radius of 120.00 in" in answer.sentence
    assert answer.source == GA_TABLE


@given(st.sampled_from(LENGTHWISE), st.floats(1.0, 1000.0))
def test_a_looser_radius_never_turns_a_pass_into_a_failure(row, radius_in):
    tight = judge(board(row[0]), "lengthwise", "dry", radius_in * IN).verdict
    loose = judge(board(row[0]), "lengthwise", "dry", (radius_in + 1) * IN).verdict
    assert (tight, loose) != ("passes", "fails")


@pytest.mark.parametrize("radius", [0.0, -1.0, float("nan")])
def test_a_radius_that_is_none_is_refused(radius):
    with pytest.raises(ValueError, match="must be more than zero"):
        judge(board("1/4"), "lengthwise", "dry", radius)


def test_a_missing_limit_is_a_gap_that_says_what_to_fill():
    answer = judge(material("NEW", "board", thickness_mm=inches(0.25)), "widthwise", "damp", 4000.0)
    assert answer.verdict == "gap"
    assert "NEW" in answer.sentence
    assert "widthwise_damp_least_radius_mm" in answer.sentence


def test_a_permitted_way_without_its_radius_is_still_a_gap():
    permitted = material("NEW", "board", widthwise_dry_permitted=fact(1))
    assert judge(permitted, "widthwise", "dry", 9000.0).verdict == "gap"


def test_a_remembered_limit_counts_but_says_unverified():
    damp = board("1/4", lengthwise_damp_least_radius_mm=inches(24, "memory", "Remembered; unverified"))
    assert judge(damp, "lengthwise", "damp", 23 * IN).verdict == "fails"
    passed = judge(damp, "lengthwise", "damp", 30 * IN)
    assert passed.verdict == "passes"
    assert "(unverified)" in passed.sentence


# On walls: which radius is compared.


def radii_of(curve, wall, face):
    return [c.radius_mm / IN for c in check_layers(curve, wall, catalog()) if c.face == face]


def test_a_concave_layer_is_judged_at_its_room_surface():
    # Library: concave framing 60.5, so the surfaces lie at 60.25 and 60.0.
    curve, wall = library()
    assert radii_of(curve, wall, "left") == pytest.approx([60.25, 60.0])


def test_a_convex_layer_is_judged_at_what_it_is_bent_against():
    # Library: convex framing 64.125; the second layer lies against the first.
    curve, wall = library()
    assert radii_of(curve, wall, "right") == pytest.approx([64.125, 64.375])


def test_the_library_nook_just_passes_in_two_thin_layers():
    curve, wall = library()
    assert {c.verdict for c in check_layers(curve, wall, catalog())} == {"passes"}


def test_the_childcare_wall_at_60_passes_outside_and_fails_inside():
    # Convex framing exactly 60; concave framing 57.5, surfaces 57.25 and 57.0.
    curve, wall = childcare(1)
    by_face = {(c.face, c.layer_number): c.verdict for c in check_layers(curve, wall, catalog())}
    assert by_face == {
        ("left", 1): "fails",
        ("left", 2): "fails",
        ("right", 1): "passes",
        ("right", 2): "passes",
    }


def test_each_layer_is_judged_by_itself_not_by_the_sum():
    half = (Layer("GB-1/2"),)
    curve, thick = dental(layers=half)
    assert {c.verdict for c in check_layers(curve, thick, catalog())} == {"passes"}
    tight, thin = childcare(0, layers=TWO_THIN)
    assert {c.verdict for c in check_layers(tight, thin, catalog())} == {"passes"}
    _, one_half = childcare(0, layers=half)
    assert {c.verdict for c in check_layers(tight, one_half, catalog())} == {"fails"}


def test_the_s_curve_changes_its_tighter_face_with_the_turn_and_its_straight_is_flat():
    curve, wall = boutique()
    checks = {(c.face, c.layer_number, c.piece_index): c for c in check_layers(curve, wall, catalog())}
    assert checks["left", 1, 0].radius_mm / IN == pytest.approx(96 - 3.625 / 2 - 0.25)
    assert checks["left", 1, 1].radius_mm / IN == pytest.approx(72 + 3.625 / 2)
    assert checks["right", 2, 1].radius_mm / IN == pytest.approx(72 - 3.625 / 2 - 0.5)
    assert checks["left", 1, 2].verdict == "flat"


def test_keys_name_face_layer_and_piece():
    curve, wall = boutique()
    keys = [c.key for c in check_layers(curve, wall, catalog())]
    assert keys[0] == "wall/left/layer-1/piece-1/bend"
    assert len(set(keys)) == len(keys) == 12


# Overrides, gaps and what is said of them.


def decided(key):
    return Override(key, "Bent on a former before, at 56 in", "M. Rowe", "2026-11-20")


def test_an_override_stands_beside_the_failure_and_hides_nothing():
    curve, wall = childcare(1)
    key = "wall/left/layer-1/piece-1/bend"
    wall = replace(wall, overrides=(decided(key),))
    check = next(c for c in check_layers(curve, wall, catalog()) if c.key == key)
    assert check.verdict == "overridden"
    assert check.least_radius_mm == pytest.approx(60 * IN)
    assert "57.25 in is tighter" in check.sentence
    assert "M. Rowe" in check.sentence
    assert [f.weight for f in findings([check])] == ["caution"]


def test_a_bend_that_is_not_permitted_can_be_overridden_by_a_named_person():
    layers = (Layer("GB-1/2", "widthwise"),)
    curve, wall = dental(layers=layers)
    assert {f.weight for f in findings(check_layers(curve, wall, catalog()))} == {"decide"}
    wall = replace(wall, overrides=(decided("wall/left/layer-1/piece-1/bend"),))
    verdicts = [c.verdict for c in check_layers(curve, wall, catalog())]
    assert verdicts == ["overridden", "not_permitted"]


def test_an_override_cannot_fill_a_gap_or_spoil_a_pass():
    curve, wall = library()
    keys = [c.key for c in check_layers(curve, wall, catalog())]
    wall = replace(wall, overrides=tuple(decided(key) for key in keys))
    assert {c.verdict for c in check_layers(curve, wall, catalog())} == {"passes"}
    assert {c.verdict for c in check_layers(curve, wall, {})} == {"gap"}


def test_a_board_without_thickness_leaves_it_and_the_layers_over_it_as_gaps():
    bare = replace(board("1/4"), facts={k: f for k, f in board("1/4").facts.items() if k != "thickness_mm"})
    curve, wall = library(layers=(Layer("GB-1/4"), Layer("GB-5/8")))
    checks = [c for c in check_layers(curve, wall, catalog(bare)) if c.face == "left"]
    assert [c.verdict for c in checks] == ["gap", "gap"]
    assert "thickness_mm" in checks[0].sentence
    assert [f.weight for f in findings(checks)] == ["gap", "gap"]


def test_a_failure_asks_for_a_decision_and_a_pass_says_nothing():
    curve, wall = childcare(1)
    result = findings(check_layers(curve, wall, catalog()))
    assert [f.weight for f in result] == ["decide", "decide"]
    assert "named person" in result[0].sentence


# A decision holds for what was decided (own rule).

KEY = "wall/left/layer-1/piece-1/bend"
# The childcare wall at 60: concave framing 57.5, the first layer's room surface 57.25.
DECIDED_MM = 57.25 * IN


def check_with(*overrides, system="imperial"):
    curve, wall = childcare(1)
    checks = check_layers(curve, replace(wall, overrides=overrides), catalog(), system)
    return next(check for check in checks if check.key == KEY)


def at(radius_mm):
    return replace(decided(KEY), original=radius_mm)


@pytest.mark.parametrize("easier_mm", [0.0, 0.4, -100.0])
def test_a_decision_stands_at_the_radius_it_was_taken_for_and_at_an_easier_one(easier_mm):
    check = check_with(at(DECIDED_MM + easier_mm))
    assert check.verdict == "overridden"
    assert check.override is not None


def test_a_decision_taken_for_an_easier_radius_must_be_taken_again():
    check = check_with(at(60 * IN))
    assert (check.verdict, check.override) == ("fails", None)
    assert "Decided by M. Rowe on Fri 20 Nov 2026 for R 60.00 in, now R 57.25 in: decide again." in check.sentence
    (finding,) = findings([check])
    assert (finding.weight, finding.compared) == ("decide", pytest.approx(DECIDED_MM))


def test_a_decision_half_a_millimetre_off_is_still_the_same_one_and_a_little_more_is_not():
    assert check_with(at(DECIDED_MM + 0.5)).verdict == "overridden"
    assert check_with(at(DECIDED_MM + 0.51)).verdict == "fails"


def test_an_older_decision_without_its_radius_holds_and_says_so():
    check = check_with(decided(KEY))
    assert check.verdict == "overridden"
    assert "does not say which radius it was taken for" in check.sentence


def test_a_later_decision_goes_before_one_that_no_longer_holds():
    assert check_with(at(60 * IN), at(DECIDED_MM)).verdict == "overridden"


def test_a_decision_about_the_track_holds_for_its_radius_alone():
    curve, wall = childcare(1)
    stiff = catalog(material("TRACK", "track", least_radius_mm=inches(58, "maker", "Its maker's sheet")))
    for original_in, verdict in ((57.5, "overridden"), (60, "fails")):
        taken = replace(decided("wall/track/piece-1/bend"), original=original_in * IN)
        assert check_track(curve, replace(wall, overrides=(taken,)), stiff)[0].verdict == verdict


@given(st.floats(500, 5000), st.floats(500, 5000))
def test_no_decision_ever_reaches_a_tighter_radius_than_its_own(decided_mm, now_mm):
    standing, message = decision_at((at(decided_mm),), KEY, now_mm, "metric")
    assert (standing is None) == (now_mm < decided_mm - 0.5)
    assert ("decide again" in message) == (standing is None)


# Track, spacing, practice.


def test_the_track_is_judged_at_the_concave_framing_radius():
    curve, wall = childcare(1)
    assert check_track(curve, wall, catalog())[0].radius_mm == pytest.approx(57.5 * IN)
    stiff = material("TRACK", "track", least_radius_mm=inches(58, "maker", "Its maker's sheet"))
    assert check_track(curve, wall, catalog(stiff))[0].verdict == "fails"
    just = material("TRACK", "track", least_radius_mm=inches("57.5", "maker", "Its maker's sheet"))
    assert check_track(curve, wall, catalog(just))[0].verdict == "passes"


def test_a_track_without_a_limit_is_a_gap_and_an_override_is_told():
    curve, wall = childcare(1)
    assert check_track(curve, wall, catalog(material("TRACK", "track")))[0].verdict == "gap"
    stiff = material("TRACK", "track", least_radius_mm=inches(58, "maker", "Its maker's sheet"))
    wall = replace(wall, overrides=(decided("wall/track/piece-1/bend"),))
    assert check_track(curve, wall, catalog(stiff))[0].verdict == "overridden"


def test_at_its_least_radius_the_board_asks_for_6_in_studs():
    # GA-226-08: at the least radius, framing at most 6 in on centre. The nook stands exactly at 60.
    limits = spacing_limits(*library(), catalog())
    assert [(limit.piece_index, limit.spacing_mm) for limit in limits] == [(0, pytest.approx(6 * IN))]


def test_looser_than_its_least_radius_the_board_asks_for_nothing():
    assert spacing_limits(*dental(), catalog()) == ()


def test_a_board_that_does_not_state_its_spacing_is_a_gap_there():
    silent = replace(
        board("1/4"), facts={k: f for k, f in board("1/4").facts.items() if k != "spacing_at_least_radius_mm"}
    )
    limits = spacing_limits(*library(), catalog(silent))
    assert limits[0].spacing_mm is None
    assert "spacing_at_least_radius_mm" in limits[0].sentence


def test_one_thin_layer_alone_on_a_curve_is_cautioned_and_two_are_not():
    # Common practice.
    curve, wall = dental(layers=(Layer("GB-1/4"),))
    assert [f.weight for f in practice_notes(curve, wall, catalog())] == ["caution", "caution"]
    assert practice_notes(*dental(), catalog()) == ()
    _, thick = dental(left=FaceBuild((Layer("GB-1/2"),)))
    assert practice_notes(curve, thick, catalog()) == ()


def test_a_bend_that_fails_by_the_cautious_reading_says_whose_reading_it_is():
    # R 60 in at the framing: the concave layer's room surface is 1/4 in tighter, 59.75 against 60 in.
    piece = ArcPiece(RadiusAngle(60 * IN, 1.0), "left")
    curve, wall = wall_of([piece], "concave_framing", 96, layers=(Layer("GB-1/4"),), build_up=0.25)
    check = next(layer for layer in check_layers(curve, wall, catalog()) if layer.verdict == "fails")
    assert check.radius_mm / IN == pytest.approx(59.75)
    assert check.source == f"{GA_TABLE}; compared on the tighter surface of the layer: our own convention"
