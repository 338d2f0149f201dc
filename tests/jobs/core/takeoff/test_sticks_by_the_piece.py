"""Bead, backing and all else sold in sticks is bought by the pieces it is cut in, never by feet."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from catalog.core.materials.specs import Fact
from jobs.core.measure.survey import HeightProfile
from jobs.core.takeoff.takeoff import Purchase, take_off
from jobs.core.takeoff.wall_work_up import work_up_wall
from tests.documents import JOBS, job_file

DAY = date(2026, 11, 25)
INCH = 25.4


def purchases(name: str) -> dict[str, Purchase]:
    read = job_file(name)
    walls = [work_up_wall(spec, read.book, DAY, board_rounds=0) for spec in read.job.walls]
    return {purchase.material: purchase for purchase in take_off(walls, read.book, DAY).purchases}


def test_the_dental_bead_takes_nine_sticks() -> None:
    # 4 x 108 in: a 10 ft stick each, 12 in left. 4 x 83 in: one each, 37 in left, short of 38.6. 2 x 38.6: one stick.
    # The 5 sticks of the shorter pieces may be 8 ft: 4 x 4.70 + 5 x 3.90 = 38.30.
    bead = purchases("larkmoor-dental")["BEAD-CORNER"]
    assert {pack.pack: pack.count for pack in bead.packs} == {"BEAD-CORNER-10": 4, "BEAD-CORNER-8": 5}
    assert bead.cost == Decimal("38.30")
    assert bead.cuts is not None and sum(len(stick.cuts) for stick in bead.cuts.sticks) == 10


@pytest.mark.parametrize("name", JOBS)
def test_one_purchase_of_all_walls_is_never_more_packs_than_wall_by_wall(name: str) -> None:
    for purchase in purchases(name).values():
        if purchase.apart_packs is not None:
            assert sum(pack.count for pack in purchase.packs) <= purchase.apart_packs, purchase.material


@pytest.mark.parametrize(
    ("lap_in", "rest_in", "message"), [(None, 24, "the catalog states no lap"), (2, 26, "50.8 mm")]
)
def test_a_bead_longer_than_any_stick_is_spliced_and_the_takeoff_says_so(lap_in, rest_in, message) -> None:
    # A 12 ft corner in 10 ft sticks: 120 in and 24 in, or 26 in where each splice loses 2 in.
    read = job_file("larkmoor-dental")
    facts = {} if lap_in is None else {"splice_overlap_mm": Fact(Decimal(str(lap_in * INCH)), "test", "maker")}
    bead = replace(read.book.materials["BEAD-CORNER"], facts=facts)
    book = read.book.with_more((), (bead,))
    high = replace(read.job.walls[0], heights=HeightProfile(((0.0, 144 * INCH),)), openings=())
    wall = work_up_wall(high, book, DAY, board_rounds=0)
    cut = sorted({round(stick.length_mm / INCH, 2) for stick in wall.sticks if stick.material == "BEAD-CORNER"})
    assert cut == [rest_in, 120]
    bought = next(purchase for purchase in take_off([wall], book, DAY).purchases if purchase.material == "BEAD-CORNER")
    assert any("Spliced" in label and message in value for label, value in bought.explanation.inputs)


def test_a_half_is_printed_upwards_in_shares_and_lengths_alike() -> None:
    # 13.375 in is 339.72499999999997 as a float of mm, a hair under the half; half up it is 13.38.
    read = job_file("larkmoor-dental")
    base = replace(read.book.materials["BASE-514-FLEX"], waste=Decimal("0.13125"))
    book = read.book.with_more((), (base,))
    wall = work_up_wall(read.job.walls[0], book, DAY, board_rounds=0)
    sticks = tuple(replace(stick, length_mm=13.375 * INCH) for stick in wall.sticks if stick.material == base.code)
    bought = take_off([replace(wall, sticks=sticks)], book, DAY).purchases
    inputs = dict(next(purchase for purchase in bought if purchase.material == base.code).explanation.inputs)
    assert "13.38 in" in inputs["Pieces"]
    assert inputs["Waste share"] == "13.13 %"
