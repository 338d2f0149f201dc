from dataclasses import replace
from datetime import date

import pytest

from jobs.core.measure.dimension_holds import dimensions_feeding, dimensions_of, holds_on_release
from jobs.core.measure.dimension_status import DimensionStatus, MarkedDimension
from jobs.core.measure.findings import Override
from jobs.core.measure.site_measurements import SiteMeasurements
from jobs.core.measure.survey import SurveyError
from jobs.core.takeoff.wall_work_up import work_up_wall
from tests.documents import document, job_file
from tests.jobs.core.walls import boutique, dental, library, run

DAY = date(2026, 11, 2)
ARC = ("pieces[0].chord", "pieces[0].rise")


def marked(dimension, how="measured"):
    return MarkedDimension(dimension, DimensionStatus(how, "Ines", DAY))


def held(*marks, custom=True):
    return [(f.key, f.weight) for f in holds_on_release("w/trim-1", ARC, marks, custom=custom)]


def test_an_assumed_dimension_holds_a_custom_line():
    assert held(marked(ARC[0]), marked(ARC[1], "assumed")) == [("w/trim-1/release/pieces[0].rise", "decide")]


def test_measured_and_confirmed_dimensions_hold_nothing():
    assert held(marked(ARC[0]), marked(ARC[1], "confirmed")) == []


def test_a_dimension_worked_out_from_offsets_holds_a_custom_line_until_it_is_read():
    marks = [marked(ARC[0]), marked(ARC[1], "fitted")]
    assert held(*marks) == [("w/trim-1/release/pieces[0].rise", "decide")]
    (hold,) = holds_on_release("w/trim-1", ARC, marks, custom=True)
    assert "is only worked out from offsets (Ines, Mon 2 Nov 2026)" in hold.sentence
    assert held(*marks, marked(ARC[1], "confirmed")) == held(*marks, custom=False) == []


def test_a_dimension_nobody_marked_is_a_gap():
    assert held(marked(ARC[0])) == [("w/trim-1/release/pieces[0].rise", "gap")]


def test_a_stocked_line_may_be_ordered_on_assumptions():
    assert held(marked(ARC[0], "assumed"), custom=False) == []


def test_the_last_mark_of_a_dimension_counts():
    assert held(marked(ARC[0]), marked(ARC[1], "assumed"), marked(ARC[1], "confirmed")) == []


def test_an_assumption_about_something_else_holds_nothing():
    assert held(marked(ARC[0]), marked(ARC[1]), marked("height", "assumed")) == []


def test_the_hold_names_who_assumed_and_when():
    (hold,) = holds_on_release("w/trim-1", ARC[:1], [marked(ARC[0], "assumed")], custom=True)
    assert "Ines, Mon 2 Nov 2026" in hold.sentence


def test_each_way_of_giving_a_piece_names_its_own_figures():
    _, wall = boutique()
    assert dimensions_of(wall) == (
        "pieces[0].radius",
        "pieces[0].angle",
        "pieces[1].radius",
        "pieces[1].angle",
        "pieces[2].length",
        "height",
    )


def test_base_does_not_hang_on_the_ceiling_but_a_cap_does():
    _, wall = library()
    assert not any(d.startswith("height") for d in dimensions_feeding(wall, run(position="base")))
    assert "height[1].height" in dimensions_feeding(wall, run(position="cap"))


def test_an_opening_feeds_the_trim_it_cuts():
    _, wall = dental()
    assert "openings[0].width" in dimensions_feeding(wall, run())


@pytest.mark.parametrize("name", ["larkmoor-dental", "ashgrove-library", "merrow-finch-boutique"])
def test_every_dimension_is_a_place_in_the_walls_document(name):
    for spec, written in zip(job_file(name).job.walls, document(f"jobs/{name}.json")["walls"], strict=True):
        for dimension in dimensions_of(spec):
            inner = written
            for step in dimension.replace("]", "").replace("[", ".").split("."):
                if isinstance(inner, dict) and step == "sill":
                    assert inner.get("sill", 0) is not None
                    break
                inner = inner[int(step)] if step.isdigit() else inner[step]


@pytest.mark.parametrize(
    ("how", "by", "field"), [("guessed", "Ines", "how"), ("measured", "  ", "by"), ("assumed", "", "by")]
)
def test_a_mark_says_how_and_who(how, by, field):
    with pytest.raises(SurveyError) as refused:
        DimensionStatus(how, by, DAY)
    assert refused.value.field == field


def test_a_named_person_releases_a_line_on_an_assumption_and_the_price_never_waits_for_it():
    read = job_file("larkmoor-dental")
    marks = tuple(marked(place, "assumed") for place in dimensions_of(read.job.walls[0]))
    wall = replace(read.job.walls[0], taken=SiteMeasurements(marks=marks))
    key = "reception-screen/trim-1/release/pieces[0].rise"
    taken = Override(key, "The architect stands for it", "Ada", "2026-11-20")
    before, after = (
        work_up_wall(entry, read.book, DAY, board_rounds=0) for entry in (wall, replace(wall, overrides=(taken,)))
    )
    released = {hold.finding.key for hold in before.holds if hold.is_open}
    released -= {hold.finding.key for hold in after.holds if hold.is_open}
    assert released == {key}
    assert key not in {finding.key for finding in (*before.findings, *after.findings)}
    assert not any(finding.key.endswith(f"override/{key}") for finding in after.findings)
