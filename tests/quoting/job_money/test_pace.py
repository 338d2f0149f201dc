"""What a step still costs at this pace stands beside what the lead says is left, on pages and by API.

Boards of Orrinsby Hall: 30 h at 49.50 are 1,485.00; of 40 % done, 1,485.00 x 60 / 40 = 2,227.50 and 45 h are to go.
"""

from datetime import date

import pytest
from django.urls import reverse

from quoting.platform import clock
from tests.factories.hours import hours_left
from tests.support.desk import as_
from tests.support.orrinsby_rows import LAST_OF_MAY, orrinsby_hall

pytestmark = pytest.mark.django_db
__all__ = ["as_"]


@pytest.fixture
def hall():
    with clock.use(clock.FrozenClock(LAST_OF_MAY)):
        hall = orrinsby_hall()
        hours_left(hall, "boards", 33 * 60, date(2027, 5, 28), percent_done=40)
        yield hall


@pytest.mark.both_engines
def test_the_api_says_what_is_left_at_this_pace(hall, as_):
    owner = as_("owner")
    costs = owner.get("/api/jobs/J-0300/costs").json()
    paces = {cost["item"]: cost["at_this_pace"] for cost in costs["items"] if cost["category"] == "labour"}
    assert paces["boards"] == "2227.50" and paces["framing"] is None
    # The forecast stays by the hours the lead says.
    assert costs["at_completion"] == "17274.28"
    steps = {entry["step"]: entry for entry in owner.get("/api/jobs/J-0300/hours-left").json()["steps"]}
    assert (steps["boards"]["percent_done"], steps["boards"]["at_this_pace"], steps["boards"]["left"]) == (
        40,
        2700,
        1980,
    )


def test_the_money_of_the_job_and_of_the_step_say_it(hall, as_):
    owner = as_("owner")
    assert "2,227.50 to complete at this pace" in owner.get(reverse("job_money", args=[hall.pk])).content.decode()
    step = owner.get(reverse("money_item", args=[hall.pk, "labour"]), {"item": "boards"}).content.decode()
    assert "2,227.50 at this pace." in step


def test_the_hours_of_the_job_say_it_in_hours_alone(hall, as_):
    page = as_("lead").get(reverse("job_hours", args=[hall.pk])).content.decode()
    assert "40 % done: 45 h at this pace" in page
    assert "2,227.50" not in page
