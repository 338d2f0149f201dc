"""Sticks of a job: what is on hand is cut first, a kept plan is checked anew and only used for what it was made for."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import Reader
from catalog.core.materials.specs import Pack, Price
from jobs.core.cutting.cutting import CutPiece, CuttingError, Stock, plan_cuts
from jobs.core.cutting.cutting_optimiser import plan_sticks
from jobs.core.takeoff.cut_list import (
    KeptSticks,
    OnHand,
    StickList,
    check_cuts,
    keep_sticks,
    not_planned,
    plan_by_kept,
    stick_lists,
)
from jobs.core.takeoff.job_plans import NO_PLANS, JobPlans
from jobs.core.takeoff.takeoff import Purchase, take_off
from jobs.core.takeoff.wall_work_up import work_up_wall
from tests.documents import job_file

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
    request = wanted(TEN, YARD)
    plan = plan_sticks(
        request.pieces, request.stocks, kerf_mm=request.kerf_mm, usable_offcut_mm=request.usable_offcut_mm
    )
    stored = keep_sticks(request, plan, plan)
    again, faults = plan_by_kept(request, stored)
    assert faults == ()
    assert again is not None
    assert (again.counts, again.cost, again.leftovers) == (plan.counts, plan.cost, plan.leftovers)
    assert read(KeptSticks, Reader(write(KeptSticks((stored,))))) == KeptSticks((stored,))


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
    stored = keep_sticks(wanted(), plan, plan)
    assert plan_by_kept(wanted(), stored)[0] is not None
    assert plan_by_kept(changed, stored) == (None, ())


def test_the_check_finds_a_stick_cut_too_long_a_piece_missing_and_too_much_taken_from_the_yard() -> None:
    plan = plan_cuts(wanted().pieces, wanted().stocks, kerf_mm=3.175)
    assert check_cuts(plan, wanted()) == ()
    sticks = plan.sticks
    missing = replace(plan, sticks=sticks[:1])
    assert "stud of 1400.00 mm is cut 2 times, not 3" in check_cuts(missing, wanted())
    crowded = replace(sticks[0], cuts=(*sticks[0].cuts, *sticks[1].cuts))
    assert any("are cut from 3048.00" in cut for cut in check_cuts(replace(plan, sticks=(crowded,)), wanted()))
    few = wanted(replace(TEN, count=1))
    assert "2 of 10 ft are used, and 1 are there" in check_cuts(plan, few)


@pytest.mark.parametrize(("length_mm", "count"), [(0.0, 1), (-3.0, 1), (300.0, 0), (300.0, 1001)])
def test_what_cannot_lie_in_the_yard_is_refused(length_mm: float, count: int) -> None:
    with pytest.raises(CuttingError):
        OnHand("STUD", length_mm, count)


# --- track: the dental screen of the worked examples, top 181.94 in and bottom 143.30 in, in sticks of 10 ft ------

DAY = date(2026, 11, 25)
IN = 25.4


def dental(*more_sticks: Pack):
    read = job_file("larkmoor-dental")
    track = read.book.materials["TRACK-358"]
    book = replace(
        read.book,
        materials={**read.book.materials, "TRACK-358": replace(track, packs=(*track.packs, *more_sticks))},
    )
    return [work_up_wall(spec, book, DAY, board_rounds=0) for spec in read.job.walls], book


def track_list(walls, book, *on_hand: OnHand) -> StickList:
    return next(entry for entry in stick_lists(walls, book, on_hand, DAY) if entry.material == "TRACK-358")


def track_bought(walls, book, plans: JobPlans = NO_PLANS) -> Purchase:
    return next(
        purchase for purchase in take_off(walls, book, DAY, (), plans).purchases if purchase.material == "TRACK-358"
    )


def chosen(request: StickList) -> KeptSticks:
    plan = plan_sticks(
        request.pieces, request.stocks, kerf_mm=request.kerf_mm, usable_offcut_mm=request.usable_offcut_mm
    )
    return KeptSticks((keep_sticks(request, plan, plan),), by="Ines Okafor", on=DAY)


def priced(length_ft: int, price: str) -> Pack:
    prices = (Price(Decimal(price), date(2026, 1, 1)),)
    return Pack(f"T{length_ft}", f"{length_ft} ft stick", Decimal(length_ft), prices, length_mm=length_ft * 304.8)


def test_track_is_planned_as_whole_sticks_and_the_rest_of_each_run() -> None:
    walls, book = dental()
    request = track_list(walls, book)
    # By hand: 181.94 - 120 = 61.94; the door cuts 143.30 into 94.68 and 48.62; 61.94 and 48.62 share a stick: three.
    assert [piece.length_mm / IN for piece in request.pieces] == pytest.approx([120, 61.94, 94.68, 48.62], abs=0.01)
    assert track_bought(walls, book).cuts is None, "by its length while nobody chose a plan"
    bought = track_bought(walls, book, JobPlans(sticks=chosen(request)))
    assert bought.cuts is not None and check_cuts(bought.cuts, request) == ()
    assert [pack.count for pack in bought.packs] == [3]
    assert ("Each run from its own sticks", "2 + 2 = 4 sticks") in bought.explanation.inputs


def test_the_rests_of_track_are_cut_from_the_cheapest_stick_that_holds_them() -> None:
    # By hand: 94.68 in are held by 8 ft for 20.00 rather than by 10 ft for 31.40; 61.94 and 48.62 take 10 ft still.
    walls, book = dental(priced(8, "20.00"), Pack("T20", "20 ft stick", Decimal(20), length_mm=6096.0))
    request = track_list(walls, book)
    assert max(piece.length_mm for piece in request.pieces) == 3048.0, "a stick without a price bounds no piece"
    plan = chosen(request).plans[0]
    assert plan.cost == plan.bound_cost == 2 * Decimal("31.40") + Decimal("20.00")


def test_track_on_hand_is_cut_before_any_is_bought_and_a_plan_made_without_it_is_out_of_date() -> None:
    walls, book = dental()
    yard = OnHand("TRACK-358", 96 * IN, 1)
    bought = track_bought(walls, book, JobPlans(on_hand=(yard,)))
    assert bought.cuts is not None
    assert dict(bought.cuts.counts) == {"TRACK-358-10": 2, "on hand 1": 1}
    stale = JobPlans(sticks=chosen(track_list(walls, book)), on_hand=(yard,))
    assert "plans/sticks/TRACK-358" in {finding.key for finding in take_off(walls, book, DAY, (), stale).findings}


def test_what_is_sold_by_length_only_is_named_as_not_planned() -> None:
    walls, book = dental()
    made = not_planned(walls, book)
    track = book.materials["TRACK-358"]
    loose = replace(track, packs=tuple(replace(pack, length_mm=None) for pack in track.packs))
    book = replace(book, materials={**book.materials, "TRACK-358": loose})
    assert set(not_planned(walls, book)) - set(made) == {"TRACK-358"}
