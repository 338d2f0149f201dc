"""The month says how many standards its record suggests, and leads to them."""

from datetime import date

import pytest
from django.urls import reverse

from tests.support.closed import closed_job
from tests.support.desk import as_
from tests.support.worked import NOW

pytestmark = pytest.mark.django_db
__all__ = ["as_"]


@pytest.mark.parametrize(("jobs", "says"), [(3, "1 suggested"), (2, "")])
def test_the_open_month_says_how_many_standards_are_suggested(frozen_clock, as_, jobs, says):
    frozen_clock.move_to(NOW)
    for n in range(1, jobs + 1):
        closed_job(f"J-010{n}", date(2026, 11, 20 + n), boards="1.2")
    page = as_("owner").get(reverse("month_of", args=["2026-11"])).content.decode()
    assert ("suggested" in page) == bool(says) and says in page
    assert not says or f'href="{reverse("learnt")}"' in page
