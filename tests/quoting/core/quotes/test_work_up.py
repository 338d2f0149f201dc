"""The main job on the worked examples: every figure the parts produce, to the stated digits."""

import json
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from jobs.core.measure.curve import curve_of
from jobs.core.measure.findings import Override
from jobs.core.measure.survey import HeightProfile, StraightPiece, Survey
from jobs.core.measure.wall_words import height_words
from jobs.core.results.result_documents import schedule_document, takeoff_document
from quoting.core.prices.payments import DepositRule
from quoting.core.quotes.job_file import read_job_file, write_job_file
from quoting.core.quotes.quote_document import client_part, quote_document
from quoting.core.quotes.work_up import work_up
from tests.documents import JOBS, job_file

DAY = date(2026, 11, 25)


def takeoff(name: str) -> dict[str, Any]:
    return takeoff_document(work_up(job_file(name), DAY))


def test_dental_lengths_areas_stations_and_trim() -> None:
    wall = takeoff("larkmoor-dental")["walls"][0]
    piece = wall["pieces"][0]
    assert piece["by_side"]["convex_framing"]["radius"]["in"] == 132.6
    assert piece["sweep_deg"] == pytest.approx(78.615, abs=5e-4)
    lengths = {name: round(side["length"]["in"], 3) for name, side in piece["by_side"].items()}
    assert lengths == {
        "convex_framing": 181.94,
        "convex_finished": 182.626,
        "concave_framing": 176.966,
        "concave_finished": 176.28,
    }
    areas = [round(wall["areas"][line]["net"]["sqft"], 2) for line in ("right_finished", "left_finished")]
    assert areas == [114.70, 109.94]
    assert wall["framing"]["base_station_count"] == 24
    assert round(wall["openings"][0]["bulge"]["in"], 2) == 1.40
    assert sorted(round(trim["net"]["in"], 2) for trim in wall["trim"]) == [137.63, 143.99]
    assert round(wall["framing"]["track_lengths"]["top"]["in"], 2) == 181.94
    assert round(wall["framing"]["track_lengths"]["bottom"]["in"], 2) == 143.30


def test_boutique_end_heading_lengths_and_areas() -> None:
    wall = takeoff("merrow-finch-boutique")["walls"][0]
    assert [round(piece["lengths"]["centre"]["in"], 3) for piece in wall["pieces"]] == [117.286, 69.115, 44.0]
    assert round(wall["lengths"]["centre"]["in"], 3) == 230.401
    assert [round(wall["end"][axis]["in"], 3) for axis in ("x", "y")] == [181.734, 119.475]
    assert wall["end"]["heading_deg"] == 15
    assert [round(wall["lengths"][line]["in"], 3) for line in ("right_finished", "left_finished")] == [231.007, 229.796]
    assert [wall["areas"][line]["net"]["sqft"] for line in ("right_finished", "left_finished")] == pytest.approx(
        [192.51, 191.50], abs=5e-3
    )


def test_childcare_radii_sweeps_arcs_and_stations() -> None:
    walls = takeoff("brightwell-childcare")["walls"]
    sides = [wall["pieces"][0]["by_side"] for wall in walls]
    assert [round(side["convex_framing"]["radius"]["in"], 2) for side in sides] == [109.0, 60.0, 139.6]
    assert [wall["pieces"][0]["sweep_deg"] for wall in walls] == pytest.approx([66.797, 106.260, 62.096], abs=5e-4)
    names = ("convex_framing", "convex_finished", "concave_framing", "concave_finished")
    assert [[round(side[name]["length"]["in"], 3) for name in names] for side in sides] == [
        [127.075, 127.658, 124.161, 123.578],
        [111.275, 112.203, 106.639, 105.712],
        [151.297, 151.839, 148.587, 148.045],
    ]
    assert [wall["framing"]["base_station_count"] for wall in walls] == [17, 15, 20]


def test_dental_money() -> None:
    quote = quote_document(work_up(job_file("larkmoor-dental"), DAY))
    assert (quote["office"]["cost"], quote["price"], quote["tax"]["amount"], quote["total"]) == (
        "8582.00",
        "13841.94",
        "1799.45",
        "15641.39",
    )


def test_childcare_money_and_deposit() -> None:
    quote = quote_document(work_up(job_file("brightwell-childcare"), DAY))
    assert (quote["office"]["cost"], quote["price"], quote["deposit"]) == ("18940.00", "29593.75", "9864.58")
    assert quote["office"]["deposit"]["special_order_cost"] == "4260.00"


def test_the_exempt_library_pays_no_tax_and_prints_its_certificate() -> None:
    quote = quote_document(work_up(job_file("ashgrove-library"), DAY))
    assert quote["priced"]
    assert quote["tax"]["amount"] == "0.00"
    assert quote["tax"]["exempt_certificate"]
    assert quote["total"] == quote["price"]


@pytest.mark.parametrize(
    ("name", "code", "dates"),
    [
        ("ashgrove-library", "BASE-OAK-PRE", ("2027-04-05", "2027-03-30", "2027-02-12", "2027-01-29")),
        ("merrow-finch-boutique", "REVEAL-58", ("2027-04-16", "2027-04-13", "2027-03-08", "2027-03-01")),
        ("merrow-finch-boutique", "BASE-700-FLEX", ("2027-04-30", "2027-04-27", "2027-04-06", "2027-03-30")),
        ("brightwell-childcare", "BASE-312-FLEX", ("2027-08-06", "2027-08-04", "2027-06-29", "2027-06-22")),
    ],
)
def test_order_dates_of_the_examples(name: str, code: str, dates: tuple[str, ...]) -> None:
    items = schedule_document(work_up(job_file(name), DAY))["items"]
    item = next(entry for entry in items if entry["material"] == code)
    assert item["order_by"] == dates[2]
    assert item["decide_by"] == dates[3]
    if name in ("ashgrove-library", "brightwell-childcare"):
        assert (item["dock"], item["ship"]) == dates[:2]


def test_dental_track_and_board_are_ordered_by_10_december() -> None:
    items = schedule_document(work_up(job_file("larkmoor-dental"), DAY))["items"]
    orders = {item["material"]: item["order_by"] for item in items}
    assert (orders["TRACK-358"], orders["GB-14"]) == ("2026-12-10", "2026-12-10")


@pytest.mark.parametrize("name", JOBS)
def test_a_job_file_written_and_read_again_gives_the_same_figures(name: str) -> None:
    read = job_file(name)
    again = read_job_file(json.loads(json.dumps(write_job_file(read))))
    assert write_job_file(again) == write_job_file(read)
    first, second = work_up(read, DAY), work_up(again, DAY)
    assert takeoff_document(first) == takeoff_document(second)
    assert schedule_document(first) == schedule_document(second)
    assert quote_document(first) == quote_document(second)


@pytest.mark.parametrize("name", JOBS)
def test_results_are_plain_json_without_nan(name: str) -> None:
    result = work_up(job_file(name), DAY)
    for document in (takeoff_document(result), schedule_document(result), quote_document(result)):
        json.dumps(document, allow_nan=False)


def test_markup_and_margin_agree_on_the_dental_price() -> None:
    # 38 % margin is 38/62 markup; feature table, row 39.
    read = job_file("larkmoor-dental")
    assert read.pricing is not None
    even = Decimal(38) / Decimal(62)
    categories = ("materials", "labour", "subcontract", "other")
    policy = replace(
        read.pricing.policy, mode="markup", target_margin=None, markup_by_category=dict.fromkeys(categories, even)
    )
    quote = work_up(replace(read, pricing=replace(read.pricing, policy=policy)), DAY).quote
    assert quote is not None
    assert quote.priced is not None
    assert quote.priced.price == Decimal("13841.94")


def test_instalments_add_up_to_the_total() -> None:
    for name in JOBS:
        quote = work_up(job_file(name), DAY).quote
        assert quote is not None
        assert quote.priced is not None
        due = [instalment.amount for instalment in quote.priced.instalments]
        assert not due or sum(due) == quote.priced.total


def test_no_cost_margin_or_supplier_is_in_what_the_client_sees() -> None:
    for name in JOBS:
        read = job_file(name)
        quote = work_up(read, DAY).quote
        assert quote is not None
        text = json.dumps(client_part(quote, "imperial")).lower()
        for word in ("margin", "markup", *(s.name.lower() for s in read.book.suppliers.values())):
            assert word not in text, (name, word)


def test_a_gap_leaves_the_quote_unpriced_and_named() -> None:
    read = job_file("merrow-finch-boutique")
    bare = replace(read.book.materials["REVEAL-58"], packs=())
    result = work_up(replace(read, book=read.book.with_more((), (bare,))), DAY)
    assert result.quote is not None
    assert result.quote.priced is None
    assert any("REVEAL-58" in finding.sentence for finding in result.quote.blocking)


def test_a_deposit_that_covers_special_orders_takes_their_cost_from_the_takeoff() -> None:
    read = job_file("merrow-finch-boutique")
    assert read.pricing is not None
    rule = DepositRule(Decimal("0.01"), covers_special_orders=True)
    quote = work_up(replace(read, pricing=replace(read.pricing, deposit=rule, special_order_cost=None)), DAY).quote
    assert quote is not None
    assert quote.deposit is not None
    special = [p.cost for p in work_up(read, DAY).takeoff.purchases if p.supply != "stocked"]
    assert quote.deposit.amount == sum(cost for cost in special if cost is not None) > 0


def test_coats_follow_the_level_of_each_face() -> None:
    # GA-214: level 1 takes one coat; the other face of level 5 takes four.
    read = job_file("larkmoor-dental")
    wall = read.job.walls[0]
    spec = replace(wall, left=replace(wall.left, level=1), right=replace(wall.right, level=5))
    plan = work_up(replace(read, job=replace(read.job, walls=(spec,))), DAY).plan
    hours = {activity.key: activity.hours for activity in plan.activities}
    assert hours["coat-1"] > hours["coat-2"] == hours["coat-4"] > 0


def test_a_margin_below_the_least_waits_for_a_second_person_whatever_the_document_says():
    read = job_file("larkmoor-dental")
    policy = replace(read.pricing.policy, minimum_margin=Decimal("0.45"))
    decision = Override("pricing/minimum-margin", "an old client", "Bram Sawtry", "2026-11-24")
    job = replace(read.job, overrides=(decision,))
    quote = work_up(replace(read, job=job, pricing=replace(read.pricing, policy=policy)), DAY).quote
    assert [f.weight for f in quote.findings if f.key == "pricing/minimum-margin"] == ["decide"]
    # 8,582.00 / (1 - 0.45) = 15,603.64, less the price of 13,841.94; by hand.
    assert quote.gate.shortfall == Decimal("1761.70")


@pytest.mark.parametrize(
    ("stations", "words"),
    [
        # Rising 8 in in 60 from 8' 0" to 8' 5-1/2" at the end of a wall of 41-1/4 in; 11' 8" only beyond it.
        (((0, 96), (330, 140)), "8' 0\" to 8' 5-1/2\""),
        (((0, 96), (41.25, 96), (330, 140)), "8' 0\""),
        (((0, 96),), "8' 0\""),
    ],
)
def test_the_height_of_a_wall_is_what_stands_over_it(stations: tuple[tuple[float, float], ...], words: str) -> None:
    heights = HeightProfile(tuple((along * 25.4, height * 25.4) for along, height in stations))
    pieces = (StraightPiece(41.25 * 25.4),)
    assert height_words(curve_of(Survey(pieces, heights, "centre", 92.0, 0.0, 0.0)), "imperial") == words


def test_what_is_not_included_is_asked_for_until_it_is_named():
    read = job_file("larkmoor-dental")
    bare = replace(read, pricing=replace(read.pricing, texts=replace(read.pricing.texts, exclusions=())))
    keys = [[finding.key for finding in work_up(one, DAY).quote.findings] for one in (read, bare)]
    assert [("pricing/not-included" in found) for found in keys] == [False, True]
