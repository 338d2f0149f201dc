"""A length typed in the wrong unit is told in words, and no page hangs on it.

Nothing here is timed: the wall must never reach the core at all.
"""

import pytest
from django.urls import reverse

from catalog.core.ground.units import parse_length
from jobs.walls.models import WallPiece
from jobs.walls.pages.form.unit_text import length_entry
from jobs.walls.services import wall_cache
from tests.stored import stored_job
from tests.support.wall_posts import form_of

pytestmark = pytest.mark.usefixtures("frozen_clock")
TOLD = "10,000 m long, and at most 200 m are worked up at once; check the units, or split the job."
KM_10 = {"pieces-0-way": "straight", "pieces-0-length": "10000 m"}


@pytest.fixture
def wall(db):
    return stored_job("larkmoor-dental").walls.get()


@pytest.fixture
def estimator(client, make_person):
    client.force_login(make_person("estimator"))
    return client


@pytest.fixture
def worked_up(monkeypatch):
    """The walls that reach the core."""
    seen, work_up_wall = [], wall_cache.work_up_wall
    monkeypatch.setattr(wall_cache, "_walls", type(wall_cache._walls)())

    def watched(spec, *args, **more):
        seen.append(spec.key)
        return work_up_wall(spec, *args, **more)

    monkeypatch.setattr(wall_cache, "work_up_wall", watched)
    return seen


@pytest.fixture
def far(wall):
    """A stored wall of 10 km, as from a file or the API."""
    wall.openings.all().delete()
    figures = dict.fromkeys(("chord_mm", "rise_mm"))
    figures |= {"shape": "straight", "given_by": "length", "turn": "", "measured_on": "", "length_mm": 10_000_000}
    WallPiece.objects.filter(wall=wall).update(**figures)
    return wall


def typed(wall, **more):
    data = {name: value for name, value in form_of(wall).items() if not name.startswith(("openings", "trims"))}
    return data | KM_10 | more


def test_a_preview_of_ten_kilometres_is_told_in_words(estimator, wall, worked_up):
    page = estimator.post(reverse("wall_preview", args=[wall.job_id, wall.key]), typed(wall))
    assert page.status_code == 200
    assert f"The wall is {TOLD}" in page.content.decode()
    assert worked_up == []


def test_nor_is_it_saved_from_the_page(estimator, wall, worked_up):
    page = estimator.post(reverse("wall", args=[wall.job_id, wall.key]), typed(wall))
    assert page.status_code == 422
    assert f"The wall is {TOLD}" in page.content.decode()
    wall.refresh_from_db()
    assert (wall.version, worked_up) == (1, [])


def test_two_hundred_metres_are_worked_up(estimator, wall, worked_up):
    """The control: at the limit the same form is drawn."""
    data = typed(wall, **{"pieces-0-length": "200 m", "stud_spacing": "600 mm"})
    page = estimator.post(reverse("wall_preview", args=[wall.job_id, wall.key]), data)
    assert "at most 200 m" not in page.content.decode()
    assert worked_up == [wall.key]


@pytest.mark.parametrize("url_name", ["job", "job_order_dates", "job_dates"])
def test_pages_of_a_job_with_such_a_wall_say_so(estimator, far, worked_up, url_name):
    page = estimator.get(reverse(url_name, args=[far.job_id]))
    assert f"The wall is {TOLD[:-1]}" in page.content.decode()
    assert worked_up == []


@pytest.mark.parametrize("length_mm", [10_000_000, 9_999_999.5, 254_000.000001])
def test_the_longest_lengths_there_are_can_be_typed_back(length_mm):
    assert float(parse_length(length_entry(length_mm, "imperial"), what="length", bare_unit="in")) == length_mm


def test_the_list_of_today_and_the_page_of_the_wall_say_so_too(estimator, far, worked_up):
    for url in (reverse("today"), reverse("order_dates"), reverse("wall", args=[far.job_id, far.key])):
        assert f"The wall is {TOLD[:-1]}" in estimator.get(url).content.decode()
    assert worked_up == []
