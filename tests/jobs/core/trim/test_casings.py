"""Casings round level heads, and the hours and days of a job whose only trim they are."""

from dataclasses import replace
from datetime import date

import pytest

from jobs.core.measure.survey import Opening, OpeningCasing
from jobs.core.takeoff.wall_work_up import work_up_wall
from jobs.core.trim.casings import cased_openings, casing_quantities
from quoting.core.quotes.job_file import JobFile, used_materials
from quoting.core.quotes.work_up import work_up
from tests.documents import job_file
from tests.jobs.core.walls import DENTAL_DOOR, IN, dental, inches, material

DAY = date(2026, 11, 25)
PROFILE = material("CASING", "trim", "ft", width_mm=inches(3), least_radius_mm=inches(134))


def cased(**more) -> Opening:
    return replace(DENTAL_DOOR, casing=OpeningCasing("CASING", None, 0.25 * IN, "both"), **more)


def test_a_level_head_is_cased_by_two_legs_and_a_mitred_head_on_each_face():
    # Door 38.5 x 83, reveal 1/4, casing 3 wide: head 38.5 + 2 x 3.25 = 45; legs 83 + 3.25 = 86.25.
    curve, wall = dental(openings=(cased(),))
    works, findings = cased_openings(curve, wall, {"CASING": PROFILE})
    items = casing_quantities(works, wall)
    lengths = [[round(value / IN, 6) for value in item.pieces_mm] for item in items]
    assert lengths == [[86.25, 86.25], [45.0]] * 2
    assert "45.0 degrees" in dict(items[0].explanation.inputs)["mitre off level"]
    assert findings == ()


def test_the_casing_of_a_window_stands_on_its_sill():
    curve, wall = dental(openings=(cased(sill_mm=36 * IN, height_mm=40 * IN),))
    works, _ = cased_openings(curve, wall, {"CASING": PROFILE})
    # Head at 76, reveal and casing 3.25 more, less the sill at 36.
    assert casing_quantities(works, wall)[0].pieces_mm[0] / IN == pytest.approx(43.25)


def test_the_head_over_a_radial_opening_follows_each_face_and_is_held_against_its_radius():
    # Finished faces at R 132.6 + 0.5 = 133.1 and 132.6 - 3.625 - 0.5 = 128.475 in: only the convex follows 134 less 1.
    curve, wall = dental(openings=(cased(frame="radial"),))
    works, findings = cased_openings(curve, wall, {"CASING": PROFILE})
    heads = {face: made.inner_mm / IN for face, made in works[0].made}
    assert heads["right"] / 133.1 - 0.5 / 133.1 == pytest.approx(heads["left"] / 128.475 - 0.5 / 128.475)
    assert [(finding.weight, "R 128.4" in finding.sentence) for finding in findings] == [("decide", True)]


def only_casings() -> JobFile:
    read = job_file("larkmoor-dental")
    wall = read.job.walls[0]
    casing = OpeningCasing("BASE-THIN-MDF", None, 0.25 * IN, "both")
    door = replace(wall.openings[0], casing=casing)
    walls = (replace(wall, openings=(door,), trims=(), overrides=()),)
    return replace(read, job=replace(read.job, walls=walls, dates=()))


def test_a_job_whose_only_trim_is_casings_has_hours_and_days_for_them():
    read = only_casings()
    wall = work_up_wall(read.job.walls[0], read.book, DAY, board_rounds=0)
    result = work_up(read, DAY, (wall,))
    trim = next(activity for activity in result.plan.activities if activity.key == "trim")
    rates = [read.book.standards.facts[name].number for name in ("trim_hours_per_m", "trim_hours_per_piece")]
    factor = read.book.standards.facts["curve_factor"].number
    width = read.book.materials["BASE-THIN-MDF"].facts["width_mm"].number / IN
    # Legs 83 + 1/4 + width, four of them; heads 38.5 + 2 x (1/4 + width), two; six pieces.
    metres = (4 * (83.25 + width) + 2 * (39.0 + 2 * width)) * IN / 1000
    assert trim.hours == pytest.approx((metres * rates[0] + 6 * rates[1]) * factor)
    need = next(entry for entry in result.needs if entry.material == "BASE-THIN-MDF")
    assert need.need_by is not None and not any(finding.weight == "gap" for finding in need.findings)


def test_a_job_file_carries_the_material_of_a_casing():
    assert "BASE-THIN-MDF" in used_materials(only_casings())
