"""Every date of the worked examples (their part B) through the API and on the job's page.

The command's files are held against the same days in test_work_up_command.py.
"""

from datetime import date

import pytest
from django.urls import reverse

from quoting.platform.screen_days import day_words
from tests.documents import JOBS
from tests.quoting.service.test_work_up_command import DATES
from tests.stored import stored_job
from tests.support.desk import DAY, as_

__all__ = ["as_"]


@pytest.fixture(params=JOBS)
def stored(request, frozen_clock, db):
    frozen_clock.move_to(DAY)
    return stored_job(request.param), DATES[request.param]


def test_the_days_worked_by_hand_are_told_by_the_api_and_the_page(stored, as_):
    job, dates = stored
    office = as_("office")
    message = office.get(reverse("api_schedule", args=[job.key])).json()["items"]
    by_code = {entry["material"]: (entry["need_by"], entry["order_by"], entry["decide_by"]) for entry in message}
    assert {code: by_code[code] for code in dates} == dates
    page = office.get(reverse("job_order_dates", args=[job.pk]), {"work": "unsigned"}).content.decode()
    for day in {day for days in dates.values() for day in days if day}:
        assert day_words(date.fromisoformat(day)) in page
