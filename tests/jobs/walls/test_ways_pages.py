"""The ways out of a bend on a wall's page: a button each beside the number, pressed once, through the page's save."""

from dataclasses import replace

import pytest
from django.urls import reverse

from jobs.core.measure.wall_spec import Layer
from jobs.walls.models import Wall
from jobs.walls.services.walls import store_wall
from tests.stored import stored_job
from tests.support.desk import as_
from tests.support.wall_posts import form_of

pytestmark = pytest.mark.usefixtures("frozen_clock")
__all__ = ["as_"]
DAMP = "way:left/GB-14/lengthwise/damp/2"


@pytest.fixture
def wall(db) -> Wall:
    """The story corner hung dry: 57 in where 60 is asked."""
    job = stored_job("brightwell-childcare")
    spec = job.walls.get(key="story-corner").to_core()
    return store_wall(job, replace(spec, left=replace(spec.left, layers=(Layer("GB-14"), Layer("GB-14")))))


def url_of(wall: Wall, name: str = "wall") -> str:
    return reverse(name, args=[wall.job_id, wall.key])


def buttons(page: str) -> int:
    return page.count('name="do" value="way:')


def test_each_way_is_a_button_with_its_limit_and_how_sure_that_is(as_, wall):
    page = as_("estimator").get(url_of(wall)).content.decode()
    assert "Hang damp</button>" in page and "2' 6&quot;, a starter figure" in page.replace("&#x27;", "'")
    assert "Rise 1' 10-3/16&quot; or less</button>" in page.replace("&#x27;", "'")
    assert buttons(page) == 6 and "way=left/GB-14/lengthwise/damp/2" in page


def test_a_way_pressed_saves_the_wall_with_what_else_is_typed_and_it_passes(as_, wall):
    desk = as_("estimator")
    answer = desk.post(url_of(wall), form_of(wall) | {"do": DAMP, "height": "100"}, follow=True)
    saved = Wall.objects.get(pk=wall.pk)
    assert [layer.moisture for layer in saved.to_core().left.layers] == ["damp", "damp"]
    assert [float(one.height_mm) for one in saved.heights.all()] == [2540.0] and saved.version == wall.version + 1
    assert buttons(answer.content.decode()) == 0


def test_a_way_of_a_wall_changed_meanwhile_or_of_none_is_not_saved(as_, wall):
    desk, old = as_("estimator"), form_of(wall)
    assert desk.post(url_of(wall), old | {"do": "way:left/none"}).status_code == 422
    desk.post(url_of(wall), old | {"height": "100"})
    assert desk.post(url_of(wall), old | {"do": DAMP}).status_code == 409


def test_a_curved_corner_pressed_is_a_decision_in_the_name_of_who_pressed_it(as_, wall):
    desk = as_("estimator")
    # Radius of chord 40 and rise 20 in: 20 in; no board follows it.
    tight = form_of(wall) | {"pieces-0-chord": "40", "pieces-0-rise": "20"}
    desk.post(url_of(wall), tight | {"do": "way:left/piece-1/corner"})
    assert {one.by for one in Wall.objects.get(pk=wall.pk).overrides.filter(key__contains="/left/")} == {
        "the-estimator"
    }


def test_prices_are_for_the_desk_each_as_it_may_see_them_and_of_a_saved_wall(as_, wall):
    estimator, lead = as_("estimator"), as_("lead")
    typed = estimator.post(url_of(wall, "wall_preview"), form_of(wall)).content.decode()
    assert buttons(typed) == 6 and "ways/price" not in typed
    seen = lead.get(url_of(wall)).content.decode()
    assert "Hang damp" in seen and buttons(seen) == 0 and "ways/price" not in seen
    price = f"{url_of(wall, 'way_price')}?way=left/GB-12/lengthwise/damp/1"
    assert "materials " in as_("office").get(price).content.decode()
    assert lead.get(price).status_code == 403
