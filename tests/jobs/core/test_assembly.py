"""A wall worked up whole: what is missing is named, and the rest still comes out."""

from dataclasses import replace
from datetime import date

import pytest

from catalog.core.book import Book
from jobs.core.assembly import WallWorkUp, work_up_wall
from jobs.core.survey import SurveyError
from tests.documents import job_file

DAY = date(2026, 11, 25)


def dental(book: Book | None = None) -> WallWorkUp:
    read = job_file("larkmoor-dental")
    return work_up_wall(read.job.walls[0], book or read.book, DAY)


def without(code: str, fact: str) -> Book:
    book = job_file("larkmoor-dental").book
    material = book.materials[code]
    facts = {name: value for name, value in material.facts.items() if name != fact}
    return book.with_more((), (replace(material, facts=facts),))


def test_the_dental_jamb_bulge_is_said() -> None:
    # Worked example: 1.40 in.
    bulge = next(f for f in dental().findings if f.key.endswith("/bulge"))
    assert bulge.weight == "caution"
    assert '1-3/8"' in bulge.sentence


def test_every_sheet_end_joint_has_a_flat_stud_behind_it() -> None:
    wall = dental()
    flat = {round(s.along_mm, 3) for s in wall.framing.stations if s.kind == "sheet_end"}
    joints = {round(place, 3) for plan in wall.face_plans for place in plan.joints_along_mm}
    assert joints
    assert joints <= flat


def test_a_board_without_a_least_radius_is_a_gap_and_never_passes() -> None:
    wall = dental(without("GB-14", "lengthwise_dry_least_radius_mm"))
    assert {check.verdict for check in wall.bend_checks} == {"gap"}
    assert any(f.weight == "gap" and "GB-14" in f.sentence for f in wall.findings)


def test_a_board_without_a_thickness_is_refused_by_name() -> None:
    with pytest.raises(SurveyError, match="GB-14.*thickness"):
        dental(without("GB-14", "thickness_mm"))


def test_the_error_of_a_wall_names_the_wall_and_the_entry() -> None:
    with pytest.raises(SurveyError) as caught:
        dental(without("STUD-358", "depth_mm"))
    assert caught.value.field == "reception-screen.stud"


def test_a_material_of_the_wrong_kind_is_named() -> None:
    read = job_file("larkmoor-dental")
    wall = work_up_wall(replace(read.job.walls[0], track="GB-14"), read.book, DAY)
    assert any("is kept as board, but is used here as track" in f.sentence for f in wall.findings)


def test_more_wall_never_needs_fewer_of_anything() -> None:
    read = job_file("merrow-finch-boutique")
    wall = read.job.walls[0]
    longer = replace(wall, pieces=(*wall.pieces, wall.pieces[-1]))
    short, long = (work_up_wall(spec, read.book, DAY) for spec in (wall, longer))
    amounts = {q.key: q.value for q in long.quantities}
    assert long.stud_count > short.stud_count
    assert all(amounts[q.key] >= q.value for q in short.quantities)


def test_painted_level_five_takes_more_compound_than_level_four() -> None:
    # Feature table: level 4 to 5 adds a skim coat on the faces raised.
    read = job_file("larkmoor-dental")
    wall = read.job.walls[0]
    raised = replace(wall, left=replace(wall.left, level=5), right=replace(wall.right, level=5))
    lower = replace(wall, left=replace(wall.left, level=4), right=replace(wall.right, level=4))
    gallons = [
        sum(q.value for q in work_up_wall(spec, read.book, DAY).quantities if q.key.endswith("compound"))
        for spec in (lower, raised)
    ]
    factor = read.book.standards.facts["compound_level_5_factor"].number
    assert gallons[1] == pytest.approx(gallons[0] * factor)
