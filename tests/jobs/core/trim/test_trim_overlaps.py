"""Trim that would lie on other trim of the same face."""

from dataclasses import replace
from datetime import date

import pytest

from jobs.core.measure.survey import HeightProfile
from jobs.core.takeoff.wall_work_up import work_up_wall
from jobs.core.trim.trim_overlaps import overlaps
from tests.documents import job_file
from tests.jobs.core.walls import IN, base, dental, library, run, with_trims

PROFILES = {"BASE": base()}  # 5-1/4 in high


def told_of(wall_of, *runs) -> list[str]:
    curve, wall = wall_of
    return [overlap.sentence for overlap in overlaps(curve, with_trims(wall, *runs), PROFILES)]


def test_a_rail_with_its_foot_inside_the_base_is_a_caution_of_the_wall():
    read = job_file("larkmoor-dental")
    wall = read.job.walls[0]
    rail = replace(wall.trims[0], name="Rail", position="chair", foot_mm=3 * IN)
    result = work_up_wall(replace(wall, trims=(*wall.trims, rail)), read.book, date(2026, 11, 25), board_rounds=0)
    # 5-1/4 in of base, a rail of the same profile from 3 in: 2-1/4 in on one another.
    findings = [finding for finding in result.findings if "/overlap-" in finding.key]
    assert [(finding.weight, "by 2.25 in in height" in finding.sentence) for finding in findings] == [("caution", True)]


@pytest.mark.parametrize(
    "other",
    [
        run("left", "chair", foot_mm=3 * IN),  # the other face
        run("right", "chair", foot_mm=5.25 * IN),  # from where the base ends
        run("right", "shoe"),  # before the base
        run("right", "crown"),  # at a ceiling 9 ft up
    ],
)
def test_runs_beside_above_or_before_one_another_do_not_overlap(other):
    assert told_of(dental(), run("right", "base"), other) == []


def test_two_crowns_on_one_face_overlap_whole_and_a_sloping_ceiling_counts_at_its_lowest():
    assert "by 5.25 in" in told_of(dental(), run("right", "crown"), run("right", "crown", name="Cove"))[0]
    # Ceiling from 8 ft up: the crown's foot stands at 96 - 5.25 = 90.75 in, a rail from 88 reaches 93.25.
    sentences = told_of(library(), run("right", "chair", foot_mm=88 * IN), run("right", "crown"))
    assert len(sentences) == 1 and "by 2.50 in" in sentences[0]
    low = (library()[0], replace(library()[1], heights=HeightProfile(((0.0, 96 * IN),))))
    assert told_of(low, run("right", "chair", foot_mm=60 * IN), run("right", "crown")) == []
