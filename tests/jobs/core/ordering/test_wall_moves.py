"""The dental screen with another rise on its chord of 168 in: R = 168 * 168 / (8 h) + h / 2 (Machinery's Handbook 31,
p. 79). With 30 in it is 132.60 in, with 31 in 129.31 in, with 29 in 136.16 in. Its base flexes 3 in tighter and 6 in
easier, as its maker says."""

from dataclasses import replace
from datetime import date

import pytest

from jobs.core.measure.survey import ArcPiece, ChordRise
from jobs.core.ordering.order_lines import statement_of
from jobs.core.ordering.wall_moves import OrderedPieces, wall_moves
from jobs.core.takeoff.wall_work_up import work_up_wall
from tests.documents import job_file

READ = job_file("larkmoor-dental")
SCREEN, MATERIALS, BASE = READ.job.walls[0], READ.book.materials, "BASE-514-FLEX"
IN = 25.4


def worked(rise_in, **more):
    pieces = (ArcPiece(ChordRise(168 * IN, rise_in * IN), "left"),)
    return work_up_wall(replace(SCREEN, pieces=pieces, **more), READ.book, date(2026, 11, 25), board_rounds=0)


QUOTED = worked(30)


def moved(rise_in, where="on_order", materials=MATERIALS, **more):
    ordered = OrderedPieces("O-0001", where, statement_of(MATERIALS[BASE], None, (QUOTED,)))
    return wall_moves(QUOTED, worked(rise_in, **more), [ordered], materials, quantities_move=True)


def told(moves):
    return [(entry.step, entry.sentence) for entry in moves.inform]


def test_a_wall_confirmed_as_quoted_moves_no_radius_and_no_piece():
    result = moved(30)
    assert (result.radii, result.ordered) == ((), ())


def test_a_radius_is_told_on_the_line_it_is_measured_on():
    [radius] = moved(31).radii
    assert (radius.piece, radius.line) == (1, "right_framing")
    assert radius.was_mm / IN == pytest.approx(132.60, abs=0.001)
    assert radius.now_mm / IN == pytest.approx(129.306, abs=0.001)


@pytest.mark.parametrize(("rise_in", "fit"), [(31, "too_far"), (30.5, "fits"), (29, "fits"), (28, "too_far")])
def test_a_piece_fits_as_far_as_it_flexes_that_way(rise_in, fit):
    # 31 in: 3.29 in tighter, of 3. 30.5 in: 1.68 in tighter. 29 in: 3.56 in easier, of 6. 28 in: 7.40 in easier.
    assert {entry.fit for entry in moved(rise_in).ordered} == {fit}


def test_both_faces_move_as_far_as_the_wall_and_the_sentence_says_what_is_too_little():
    left, right = moved(31).ordered
    # 132.6 - 129.306 = 3.294 in on parallel lines; 3.294 - 3 = 0.294 in.
    assert left.by_mm / IN == right.by_mm / IN == pytest.approx(-3.294, abs=0.001)
    assert left.words("imperial").endswith("3.29 in tighter. It flexes 3.00 in tighter: 0.29 in too little.")


def test_a_flex_nobody_stated_is_not_taken_for_a_fit():
    facts = {name: fact for name, fact in MATERIALS[BASE].facts.items() if not name.startswith("flex")}
    result = moved(30.5, materials={BASE: replace(MATERIALS[BASE], facts=facts)})
    assert [misfit.fit for misfit in result.misfits] == ["not_known", "not_known"]
    assert ("office", "Ask the supplier of O-0001 how far its pieces flex.") in told(result)


def test_pieces_of_a_run_that_is_gone_are_told():
    assert [entry.fit for entry in moved(30, trims=SCREEN.trims[:1]).ordered] == ["gone"]


def test_a_wall_with_a_new_name_keeps_its_pieces():
    assert moved(30, name="Desk screen").ordered == ()


@pytest.mark.parametrize(
    ("where", "sentence"),
    [
        ("draft", "Update the draft O-0001."),
        ("on_order", "Ask the supplier of O-0001 whether the pieces can still be changed."),
        ("on_site", "Order again what does not fit of O-0001."),
    ],
)
def test_who_must_know_follows_from_where_the_pieces_are(where, sentence):
    assert told(moved(31, where)) == [
        ("office", sentence),
        ("estimator", "Quantities move: say whether the client gets a change note."),
        ("lead", "Set out by the new radius, from a new site sheet."),
    ]
