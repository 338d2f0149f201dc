"""Pieces of an order line one by one, on a wall that bends in one piece and back in the next: three pieces of base, the
middle one over the change."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.declared import write
from jobs.core.ordering.chosen_pieces import is_still_stated, same_pieces
from jobs.core.ordering.line_pieces import LinePiecesError, only_pieces, pieces_of
from jobs.core.ordering.order_lines import (
    OrderStatement,
    StatedCurve,
    StatedPiece,
    StatedRadius,
    StatedRun,
    mark_of,
    part_of,
    read_statement,
    states_the_same,
)

BACK = "back of the piece"


def run(name="Base", wall="Wall", first_mm=3000.0):
    in_, out = StatedCurve(1, "concave", first_mm, 900.0), StatedCurve(2, "convex", 4000.0, 900.0)
    pieces = (
        StatedPiece(1, (in_,)),
        StatedPiece(2, (replace(in_, length_mm=450.0), replace(out, length_mm=450.0))),
        StatedPiece(3, (out,)),
    )
    radii = (StatedRadius(1, "concave", first_mm, BACK, 1350.0), StatedRadius(2, "convex", 4000.0, BACK, 1350.0))
    return StatedRun(
        wall, name, "P", "5 in", "paint", "base", "true arc", radii, (900.0,) * 3, 0, None, (), (), pieces=pieces
    )


def statement(*runs):
    return OrderStatement("B", "Base", Decimal(3 * len(runs)), "pieces", (), runs)


TWO = statement(run(), run("Cap"))


def old(document):
    """As it was kept before it was stated where pieces go."""
    return document | {
        "runs": [{name: entry for name, entry in run.items() if name != "pieces"} for run in document["runs"]]
    }


def test_pieces_are_numbered_run_by_run_and_keep_their_places():
    places = pieces_of(TWO, Decimal(6))
    assert [(piece.number, piece.run, piece.place) for piece in places] == [
        (1, "Base", 1), (2, "Base", 2), (3, "Base", 3), (4, "Cap", 1), (5, "Cap", 2), (6, "Cap", 3),
    ]  # fmt: skip


def test_of_a_line_that_orders_some_of_what_it_states_nobody_can_tell_the_pieces():
    assert pieces_of(TWO, Decimal(2)) == ()


def test_only_the_bad_pieces_are_stated_with_the_radii_they_follow():
    result = only_pieces(TWO, [3, 5])
    assert [(piece.run, piece.place, len(piece.curves)) for piece in pieces_of(result, Decimal(2))] == [
        ("Base", 3, 1),
        ("Cap", 2, 2),
    ]
    assert [[radius.radius_mm for radius in run.radii] for run in result.runs] == [[4000.0], [3000.0, 4000.0]]


@pytest.mark.parametrize("numbers", [[], [0], [7], [1, 7]])
def test_a_piece_the_line_does_not_have_is_refused(numbers):
    with pytest.raises(LinePiecesError, match="from 1 to 6"):
        only_pieces(TWO, numbers)


@given(st.sets(st.integers(1, 6), min_size=1))
def test_whichever_pieces_are_stated_each_is_one_of_the_line_and_reads_back(numbers):
    result = only_pieces(TWO, numbers)
    whole = {piece.number: piece for piece in pieces_of(TWO, Decimal(6))}
    assert {number.key for number in pieces_of(result, Decimal(len(numbers)))} == {
        whole[number].key for number in numbers
    }
    assert is_still_stated(result, TWO) and read_statement(write(result)) == result


def test_pieces_that_follow_other_radii_are_not_alike_though_as_long():
    assert part_of(statement(run()), Decimal(1)) is None


def test_a_piece_whose_curve_moved_is_not_as_it_was_and_is_found_by_its_place():
    moved = statement(run(first_mm=2900.0), run("Cap"))
    chosen = only_pieces(TWO, [1])
    assert not is_still_stated(chosen, moved) and is_still_stated(only_pieces(TWO, [3]), moved)
    assert same_pieces(chosen, TWO, moved) == only_pieces(moved, [1])


def test_a_statement_kept_before_places_were_stated_is_read_and_held_against_all_else():
    stored, now = old(write(TWO)), write(TWO)
    assert [piece.place for piece in pieces_of(read_statement(stored), Decimal(6))] == [1, 2, 3, 1, 2, 3]
    assert mark_of(stored) == mark_of(now) and states_the_same(stored, now)
    assert not states_the_same(stored, write(statement(run(first_mm=2900.0), run("Cap"))))


def test_two_statements_that_differ_only_in_where_pieces_go_do_not_say_the_same():
    first, second, third = run().pieces
    other = replace(run(), pieces=(second, first, third))
    assert not states_the_same(write(statement(run())), write(statement(other)))
