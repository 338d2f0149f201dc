"""Every quantity that is shown opens into its rule, what went into it and its source."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from jobs.core.measure.wall_spec import FaceBuild
from jobs.core.results.result_documents import takeoff_document, wall_document
from jobs.core.takeoff.wall_work_up import work_up_wall
from jobs.walls.pages.figures import WallFigures
from quoting.core.quotes.work_up import WorkUp, work_up
from tests.documents import job_file

DAY = date(2026, 11, 25)


def dental(entered: Decimal | None = None) -> WorkUp:
    read = job_file("larkmoor-dental")
    assert read.pricing is not None
    return work_up(replace(read, pricing=replace(read.pricing, entered_materials=entered)), DAY)


def test_every_line_and_purchase_of_the_json_says_why():
    document = takeoff_document(dental())
    assert document["lines"]
    assert document["purchases"]
    for entry in (*document["lines"], *document["purchases"]):
        assert entry["why"]["rule"], entry
        assert entry["why"]["inputs"], entry
        assert entry["why"]["source"], entry


def test_water_for_damp_bending_is_told_with_its_rule_though_nobody_buys_it():
    read = job_file("larkmoor-dental")
    wall = read.job.walls[0]
    damp = tuple(replace(layer, moisture="damp") for layer in wall.left.layers)
    result = work_up_wall(replace(wall, left=FaceBuild(damp, wall.left.level)), read.book, DAY, board_rounds=0)
    shown = WallFigures(result, read.book, DAY).uses
    written = wall_document(result, "imperial")["uses"]
    assert [label for label, _, _ in shown] == [one["label"] for one in written]
    # Each of two layers on its own: litres per square metre of its board x the area of the arc.
    rates = [read.book.materials[layer.board].facts["damp_water_l_per_m2"].number for layer in damp]
    area_m2 = result.curve.net_area_mm2("left_framing") / 1e6
    assert [round(float(entry["quantity"]), 3) for entry in written] == [round(rate * area_m2, 3) for rate in rates]
    assert all(why.source for _, _, why in shown)
