from dataclasses import replace
from datetime import date

import pytest

from jobs.core.measure.wall_spec import TrimRun
from jobs.core.takeoff.wall_work_up import work_up_wall
from jobs.drawings.standing import Cap, thumbnail_svg
from jobs.drawings.worked_up import bands_of, standing_wall
from tests.documents import JOBS, job_file

DAY = date(2026, 10, 5)


def worked(name: str):
    read = job_file(name)
    return [work_up_wall(wall, read.book, DAY) for wall in read.job.walls], read.book


@pytest.mark.parametrize("name", JOBS)
def test_every_wall_of_the_fixtures_has_its_small_picture(name):
    result, book = worked(name)
    pictures = [thumbnail_svg(standing_wall(wall, book), title=wall.spec.name).svg for wall in result]
    assert all("Standing, seen" in svg and len(svg) < 4096 for svg in pictures)


def test_the_bands_of_a_face_are_its_trim_with_the_catalogs_widths():
    result, book = worked("larkmoor-dental")
    for face in ("left", "right"):
        widths = [book.materials[r.material].fact("width_mm").number for r in result[0].spec.trims if r.face == face]
        assert [band.height_mm for band in bands_of(result[0], face, book)] == widths


def test_a_half_wall_carries_its_cap_and_a_whole_one_none():
    result, book = worked("ashgrove-library")
    cap = next(code for code, entry in book.materials.items() if {"width_mm", "thickness_mm"} <= set(entry.facts))
    run = TrimRun("Cap", "left", "top", cap)
    half = replace(result[0], spec=replace(result[0].spec, top="free", trims=(run,)))
    figures = book.materials[cap].facts
    assert standing_wall(half, book).cap == Cap(figures["width_mm"].number, figures["thickness_mm"].number)
    assert standing_wall(result[0], book).cap is None
