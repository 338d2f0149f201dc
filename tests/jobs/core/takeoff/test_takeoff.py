"""Net, waste, rounding, packs and merging over walls."""

from dataclasses import replace
from datetime import date
from decimal import ROUND_CEILING, Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import Fact, Material, Pack, Price
from catalog.core.materials.standards import starter_standards
from jobs.core.measure.findings import Override
from jobs.core.measure.survey import HeightProfile, StraightPiece
from jobs.core.measure.wall_spec import FaceBuild, WallSpec
from jobs.core.takeoff.takeoff import Purchase, Takeoff, take_off, whole_packs, with_waste
from jobs.core.takeoff.wall_work_up import WallWorkUp, work_up_wall
from tests.documents import job_file, starter

DAY = date(2026, 11, 25)
MM_PER_FT = 304.8


def example(name: str) -> Takeoff:
    read = job_file(name)
    walls = [work_up_wall(spec, read.book, DAY) for spec in read.job.walls]
    return take_off(walls, read.book, DAY, read.job.overrides)


def bought(takeoff: Takeoff, code: str) -> Purchase:
    return next(purchase for purchase in takeoff.purchases if purchase.material == code)


def material(code: str, kind: str, unit: str, pack: str, **more: object) -> Material:
    packs = (Pack(f"{code}-P", "pack", Decimal(pack), (Price(Decimal("2.00"), date(2026, 1, 1)),)),)
    made = Material(code, code, kind, "stocked", unit, "pack", Decimal(0), packs)
    return replace(made, **more)  # type: ignore[arg-type]


def track_book(waste: str = "0") -> Catalog:
    track = material("TRACK", "track", "ft", "10", waste=Decimal(waste))
    stud = material("STUD", "stud", "ft", "10")
    stud = replace(stud, facts={"depth_mm": Fact(Decimal("92.075"), "test", "firm")})
    return Catalog(starter().firm, starter_standards(), {}, {"TRACK": track, "STUD": stud})


def straight_wall(key: str, length_mm: float) -> WallSpec:
    bare = FaceBuild((), level=0)
    heights = HeightProfile(((0.0, 2438.4),))
    return WallSpec(key, key, "centre", (StraightPiece(length_mm),), heights, "TRACK", "STUD", bare, bare)


def top_track_only(wall: WallWorkUp) -> WallWorkUp:
    return replace(wall, quantities=tuple(q for q in wall.quantities if q.key.endswith("/track/top")))


def test_three_track_runs_take_five_sticks_apart_and_four_merged() -> None:
    # Convex framing lengths of the childcare example; feature table: one run a wall, 5 apart, 4 merged.
    book = track_book()
    lengths_in = {"a": 127.075, "b": 111.275, "c": 151.297}
    walls = [top_track_only(work_up_wall(straight_wall(k, v * 25.4), book, DAY)) for k, v in lengths_in.items()]
    purchase = bought(take_off(walls, book, DAY), "TRACK")
    assert (purchase.packs[0].count, purchase.apart_packs) == (4, 5)


def test_dental_track_is_three_sticks_shared_and_two_and_two_apart() -> None:
    # Feature table: top 181.94 in, bottom 143.30 in, 10 ft sticks.
    purchase = bought(example("larkmoor-dental"), "TRACK-358")
    assert purchase.packs[0].count == 3
    assert ("Each run from its own sticks", "2 + 2 = 4 sticks") in purchase.explanation.inputs


def test_tape_rounds_up_after_waste() -> None:
    # *Estimating in Building Construction*, example 16-3: 2,660 ft with 10 % in 50 ft rolls is 59 rolls.
    rolls = [Pack("R", "50 ft roll", Decimal(50))]
    assert whole_packs(Decimal(2660) * Decimal("1.10"), rolls, DAY)[0][1] == 59


@pytest.mark.parametrize("name", ["larkmoor-dental", "brightwell-childcare", "merrow-finch-boutique"])
def test_net_waste_and_rounding_add_up_to_what_is_bought(name: str) -> None:
    for purchase in example(name).purchases:
        assert purchase.net + purchase.waste + purchase.rounding == purchase.buy
        assert purchase.buy == sum(p.quantity * p.count for p in purchase.packs)
        assert purchase.rounding >= 0, purchase.material


def test_the_cost_is_shared_back_to_the_walls_exactly() -> None:
    for purchase in example("brightwell-childcare").purchases:
        assert sum(share.cost or 0 for share in purchase.shares) == purchase.cost


def test_a_missing_price_is_a_named_gap_and_no_cost() -> None:
    book = track_book()
    unpriced = replace(book.materials["TRACK"], packs=(Pack("TRACK-P", "10 ft stick", Decimal(10)),))
    book = book.with_more((), (unpriced,))
    takeoff = take_off([top_track_only(work_up_wall(straight_wall("w", 3000.0), book, DAY))], book, DAY)
    assert takeoff.cost is None
    assert [f.key for f in takeoff.findings if "price" in f.key] == ["catalog/TRACK/price/TRACK-P"]


def test_a_missing_waste_share_is_a_named_gap_not_zero() -> None:
    book = track_book()
    book = book.with_more((), (replace(book.materials["TRACK"], waste=None),))
    takeoff = take_off([work_up_wall(straight_wall("w", 3000.0), book, DAY)], book, DAY)
    assert "catalog/TRACK/waste" in [f.key for f in takeoff.findings]
    assert "TRACK" not in [p.material for p in takeoff.purchases]


def test_a_deleted_material_is_named_by_every_line_that_needs_it() -> None:
    read = job_file("larkmoor-dental")
    left = {code: m for code, m in read.book.materials.items() if code != "TAPE-PAPER"}
    book = replace(read.book, materials=left)
    takeoff = take_off([work_up_wall(spec, book, DAY) for spec in read.job.walls], book, DAY)
    assert any("TAPE-PAPER" in finding.sentence for finding in takeoff.findings if finding.weight == "gap")
    assert takeoff.cost is None


def test_an_override_keeps_the_original_and_shows_drift() -> None:
    book = track_book()
    spec = straight_wall("w", 10 * MM_PER_FT)
    decision = Override("w/track/top", "site says so", "Ines", "2026-11-20", 12.0, 9.0)
    walls = [top_track_only(work_up_wall(replace(spec, overrides=(decision,)), book, DAY))]
    line = take_off(walls, book, DAY).lines[0]
    assert (line.computed, line.net, line.drift) == (Decimal(10), Decimal(12), Decimal(1))


def test_a_later_price_is_used_from_its_day() -> None:
    book = track_book()
    prices = (Price(Decimal("2.00"), date(2026, 1, 1)), Price(Decimal("3.00"), date(2026, 12, 1)))
    book = book.with_more((), (replace(book.materials["TRACK"], packs=(Pack("P", "stick", Decimal(10), prices),)),))
    walls = [top_track_only(work_up_wall(straight_wall("w", 10 * MM_PER_FT), book, DAY))]
    costs = [take_off(walls, book, day).purchases[0].cost for day in (date(2026, 11, 30), date(2026, 12, 1))]
    assert costs == [Decimal("2.00"), Decimal("3.00")]


@settings(deadline=None)
@given(
    need=st.decimals("0.01", "5000", places=2),
    sizes=st.lists(st.integers(1, 500), min_size=1, max_size=3, unique=True),
)
def test_packs_always_hold_what_is_needed_and_none_is_to_spare(need: Decimal, sizes: list[int]) -> None:
    packs = [Pack(f"P{size}", "pack", Decimal(size)) for size in sizes]
    chosen = whole_packs(need, packs, DAY)
    held = sum(pack.quantity * count for pack, count in chosen)
    assert held >= need
    assert all(held - pack.quantity < need for pack, _ in chosen)


def test_a_material_sold_in_forty_sizes_is_still_answered_at_once() -> None:
    packs = [Pack(f"P{n}", "pack", Decimal(n), (Price(Decimal(n), DAY),)) for n in range(1, 41)]
    chosen = whole_packs(Decimal("1234.5"), packs, DAY)
    assert sum(pack.quantity * count for pack, count in chosen) == 1235


def test_a_pack_without_a_price_is_passed_over_where_another_has_one() -> None:
    priced = Pack("SMALL", "pack", Decimal(10), (Price(Decimal("5.00"), DAY),))
    chosen = whole_packs(Decimal(25), [Pack("BIG", "pack", Decimal(100)), priced], DAY)
    assert [(pack.code, count) for pack, count in chosen] == [("SMALL", 3)]


def test_a_mix_of_packs_is_the_cheapest_there_is() -> None:
    # By hand: 31 from packs of 10 at 10.00 and of 7 at 6.50 is least as one of ten and three of seven, 29.50.
    packs = [Pack(f"P{n}", "pack", Decimal(n), (Price(Decimal(p), DAY),)) for n, p in ((10, "10.00"), (7, "6.50"))]
    assert {pack.code: count for pack, count in whole_packs(Decimal(31), packs, DAY)} == {"P10": 1, "P7": 3}


def test_the_off_cuts_of_a_plan_count_towards_the_waste_share() -> None:
    # One 10 ft piece from a 16 ft stick, 10 % waste: net 10, waste 1, and 5 over; no second stick.
    read = job_file("larkmoor-dental")
    wall = read.job.walls[0]
    trim = replace(wall.trims[0], material="BASE-THIN-MDF", form="stock", splices_allowed=True)
    spec = replace(wall, trims=(trim,))
    purchase = bought(take_off([work_up_wall(spec, read.book, DAY)], read.book, DAY), "BASE-THIN-MDF")
    assert purchase.waste == (purchase.net / 10).quantize(purchase.waste, ROUND_CEILING)
    assert sum(count.count for count in purchase.packs) == 1


def test_a_price_no_longer_held_is_said() -> None:
    book = track_book()
    old = Price(Decimal("2.00"), date(2024, 1, 1), "", date(2024, 6, 30))
    book = book.with_more((), (replace(book.materials["TRACK"], packs=(Pack("P", "stick", Decimal(10), (old,)),)),))
    takeoff = take_off([work_up_wall(straight_wall("w", 3000.0), book, DAY)], book, DAY)
    assert [f.weight for f in takeoff.findings if f.key == "catalog/TRACK/price-held/P"] == ["caution"]


@pytest.mark.parametrize(("net", "sheets"), [(112, 118), (38, 40)])
def test_sheets_take_five_per_cent_of_waste_and_round_up(net: int, sheets: int) -> None:
    # *Estimating in Building Construction*, example 16-3: 112 and 38 sheets with 5 % waste are 118 and 40.
    need = with_waste(Decimal(net), Decimal("0.05"))
    assert whole_packs(need, [Pack("S", "sheet", Decimal(1))], DAY)[0][1] == sheets


def test_an_override_of_the_job_that_names_no_quantity_is_told() -> None:
    stray = Override("w/no-such-line", "typed by hand", "Ines", "2026-11-20", 12.0)
    walls, book = [work_up_wall(straight_wall("w", 3000.0), track_book(), DAY)], track_book()
    findings = take_off(walls, book, DAY, (stray,)).findings
    assert [
        "w/no-such-line" in finding.sentence for finding in findings if finding.key == f"job/override/{stray.key}"
    ] == [True]


def test_a_template_is_charged_beside_the_lengths_once_for_each_run():
    read = job_file("ashgrove-library")
    plain = take_off_of(read)
    code = next(trim.material for trim in read.job.walls[0].trims if trim.position == "cap")
    cap = read.book.materials[code]
    trims = tuple(replace(t, form="template") if t.material == code else t for t in read.job.walls[0].trims)
    made = replace(read, job=replace(read.job, walls=(replace(read.job.walls[0], trims=trims),)))
    assert next(purchase for purchase in take_off_of(made).purchases if purchase.material == code).cost is None
    charged = replace(cap, facts={**cap.facts, "template_charge": Fact(Decimal("150"), "Its maker", "maker")})
    book = replace(read.book, materials={**read.book.materials, code: charged})
    after = next(purchase for purchase in take_off_of(replace(made, book=book)).purchases if purchase.material == code)
    before = next(purchase for purchase in plain.purchases if purchase.material == code)
    assert (after.buy, after.cost) == (before.buy, before.cost + 150)


def take_off_of(read):
    walls = tuple(work_up_wall(spec, read.book, date(2026, 12, 14)) for spec in read.job.walls)
    return take_off(walls, read.book, date(2026, 12, 14))
