"""Sticks of a job: what is on hand is cut first, a kept plan is checked anew and only used for what it was made for."""

from dataclasses import replace
from decimal import Decimal

import pytest

from catalog.core.reading import Reader
from jobs.core.cutting import CutPiece, CuttingError, Stock, plan_cuts
from jobs.core.plan_document import read_kept_sticks, write_kept_sticks
from jobs.core.stick_job import KeptSticks, OnHand, StickList, check_cuts, keep_sticks, plan_by_kept
from jobs.core.stick_plan import plan_sticks

TEN = Stock("10 ft", 3048.0, Decimal("4.00"))
YARD = Stock("on hand 1", 1500.0, Decimal(0), 1)


def wanted(*stocks: Stock, kerf_mm: float = 3.175) -> StickList:
    return StickList("STUD", (CutPiece("stud", 1400.0, 3),), stocks or (TEN,), kerf_mm, 304.8)


def test_what_is_on_hand_costs_nothing_and_is_cut_first() -> None:
    # By hand: two of 1,400 and a cut fit 3,048; the third fits the 1,500 on hand, so one stick is bought, not two.
    plan = plan_sticks(wanted().pieces, (TEN, YARD), kerf_mm=3.175)
    assert dict(plan.counts) == {"10 ft": 1, "on hand 1": 1}
    assert plan.cost == plan.bound.cost == Decimal("4.00")
    assert plan_cuts(wanted().pieces, (TEN,), kerf_mm=3.175).cost == Decimal("8.00")


def test_a_kept_plan_is_the_same_plan_again_and_survives_its_document() -> None:
    asked = wanted(TEN, YARD)
    plan = plan_sticks(asked.pieces, asked.stocks, kerf_mm=asked.kerf_mm, usable_offcut_mm=asked.usable_offcut_mm)
    kept = keep_sticks(asked, plan, plan)
    again, faults = plan_by_kept(asked, kept)
    assert faults == ()
    assert again is not None
    assert (again.counts, again.cost, again.leftovers) == (plan.counts, plan.cost, plan.leftovers)
    assert read_kept_sticks(Reader(write_kept_sticks(KeptSticks((kept,))))) == KeptSticks((kept,))


@pytest.mark.parametrize(
    "changed",
    [
        wanted(replace(TEN, price=Decimal("4.01"))),
        wanted(TEN, YARD),
        wanted(kerf_mm=4.0),
        replace(wanted(), pieces=(CutPiece("stud", 1400.0, 4),)),
    ],
    ids=["price", "on hand", "saw", "pieces"],
)
def test_a_kept_plan_serves_nothing_else_than_it_was_made_for(changed: StickList) -> None:
    plan = plan_cuts(wanted().pieces, wanted().stocks, kerf_mm=3.175)
    kept = keep_sticks(wanted(), plan, plan)
    assert plan_by_kept(wanted(), kept)[0] is not None
    assert plan_by_kept(changed, kept) == (None, ())


def test_the_check_finds_a_stick_cut_too_long_a_piece_missing_and_too_much_taken_from_the_yard() -> None:
    plan = plan_cuts(wanted().pieces, wanted().stocks, kerf_mm=3.175)
    assert check_cuts(plan, wanted()) == ()
    sticks = plan.sticks
    missing = replace(plan, sticks=sticks[:1])
    assert "stud of 1400.00 mm is cut 2 times, and 3 is wanted" in check_cuts(missing, wanted())
    crowded = replace(sticks[0], cuts=(*sticks[0].cuts, *sticks[1].cuts))
    assert any("are cut from 3048.00" in told for told in check_cuts(replace(plan, sticks=(crowded,)), wanted()))
    few = wanted(replace(TEN, count=1))
    assert "2 of 10 ft are used, and 1 are there" in check_cuts(plan, few)


@pytest.mark.parametrize(("length_mm", "count"), [(0.0, 1), (-3.0, 1), (300.0, 0), (300.0, 1001)])
def test_what_cannot_lie_in_the_yard_is_refused(length_mm: float, count: int) -> None:
    with pytest.raises(CuttingError):
        OnHand("STUD", length_mm, count)
