from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.core.ordering.chosen_pieces import (
    ChosenPiecesError,
    chosen_of,
    is_still_stated,
    kinds_of,
    moved_radii,
    same_pieces,
)
from jobs.core.ordering.order_lines import OrderStatement, StatedPack, StatedRadius, StatedRun


def run(name, radius_mm, lengths_mm):
    radius = StatedRadius(1, "concave", radius_mm, "back of the piece", sum(lengths_mm))
    return StatedRun(
        "Wall", name, "Base", "5-1/4", "paint", "", "true arc", (radius,), tuple(lengths_mm), 0, None, (), ()
    )


def statement(*runs):
    return OrderStatement("B", "Base", Decimal(sum(len(entry.piece_lengths_mm) for entry in runs)), "pieces", (), runs)


WHOLE = statement(run("Left", 3263.0, (2438.4, 1219.2)), run("Right", 3380.0, (2438.4, 1524.0)))


@given(
    st.lists(st.lists(st.sampled_from([900.0, 1200.0, 2400.0]), min_size=1, max_size=5), min_size=1, max_size=3),
    st.data(),
)
def test_whatever_is_chosen_is_still_stated_and_counts_as_many(lengths, data):
    whole = statement(*(run(f"Run {nth}", 3000.0 + nth, entry) for nth, entry in enumerate(lengths)))
    counts = [data.draw(st.integers(0, kind.count)) for kind in kinds_of(whole)]
    if sum(counts):
        result = chosen_of(whole, counts)
        assert result.quantity == len(result.piece_lengths_mm) == sum(counts) and is_still_stated(result, whole)


@pytest.mark.parametrize("counts", [(2, 0, 0, 0), (0, 0, 0, 0), (-1, 1, 0, 0), (1, 0)])
def test_no_more_of_a_kind_is_chosen_than_was_ordered_and_not_nothing(counts):
    with pytest.raises(ChosenPiecesError):
        chosen_of(WHOLE, counts)


def test_packs_of_two_labels_are_chosen_by_label():
    packs = (StatedPack("4 x 8 ft sheet", 4), StatedPack("4 x 10 ft sheet", 2))
    boards = OrderStatement("GB", "Board", Decimal(6), "sheets", packs)
    assert chosen_of(boards, [0, 1]).packs == (StatedPack("4 x 10 ft sheet", 1),)


def test_only_the_radius_of_a_chosen_run_is_told_as_moved():
    now = replace(WHOLE, runs=(run("Left", 3230.0, (2438.4, 1219.2)), WHOLE.runs[1]))
    [moved] = moved_radii(chosen_of(WHOLE, [1, 0, 0, 0]), now)
    assert (moved.was_mm, moved.now_mm) == (3263.0, 3230.0)
    assert moved_radii(chosen_of(WHOLE, [0, 0, 1, 0]), now) == ()


def test_a_run_the_wall_has_no_more_has_no_radius_now():
    [moved] = moved_radii(chosen_of(WHOLE, [1, 0, 0, 0]), replace(WHOLE, runs=WHOLE.runs[1:]))
    assert moved.now_mm is None


def test_the_same_pieces_are_known_by_their_place_in_the_run_while_it_has_as_many():
    now = replace(WHOLE, runs=(run("Left", 3230.0, (2400.0, 1200.0)), WHOLE.runs[1]))
    chosen = chosen_of(WHOLE, [0, 1, 0, 0])
    assert same_pieces(chosen, WHOLE, now).piece_lengths_mm == (1200.0,)
    assert same_pieces(chosen, WHOLE, replace(now, runs=(run("Left", 3230.0, (3600.0,)),))) is None
