"""Hours in the history of a job, a line each time they were sent. An hour costs 47.13, odd so that it is seen."""

import re
from datetime import date, timedelta

import pytest
from django.urls import reverse

from tests.factories.hours import NOW, hours_left, time_entry, worker
from tests.support.desk import as_, queries_of
from tests.support.worked import small_job

__all__ = ["as_"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
DAY = date(2026, 9, 30)


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    return small_job()


def crew_of(job, *names, **more):
    """8 h each, sent together."""
    document = {"request_key": "once", "step": "setting-out", "rate": "47.13", **more}
    return [time_entry(worker(name), job, 480, DAY, place=place, **document) for place, name in enumerate(names)]


def lines_of(client, job):
    page = client.get(reverse("job_history", args=[job.pk]), {"save": "all"}).content.decode()
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


def changes_of(client, job):
    changes = client.get(reverse("job_history", args=[job.pk])).context["changes"]
    return [(entry.who, f"{entry.what} {entry.did}") for entry in changes if entry.is_event or "hours" in entry.what]


def test_hours_of_a_crew_sent_together_are_one_line_with_each_worker_below(as_, job):
    crew_of(job, "Sam Orrin", "Rowan")
    office = as_("office")
    assert changes_of(office, job) == [("L. Lead", "16 h of work on Wed 30 Sep 2026 entered")]
    page = lines_of(office, job)
    assert "8 h, setting out" in page and "Rowan" in page


def test_what_an_hour_costs_is_told_to_those_who_see_it_and_to_no_one_else(as_, job):
    entry = crew_of(job, "Sam Orrin")[0]
    entry.rate = "49.31"
    entry.save()
    for role in ("owner", "estimator"):
        page = lines_of(as_(role), job)
        assert "49.31 an hour" in page and "hours of Sam Orrin, Wed 30 Sep, rate" in page
    page = lines_of(as_("office"), job)
    assert "47.13" not in page and "49.31" not in page


def test_hours_voided_or_taken_back_stand_beside_those_entered(as_, job):
    voided, wrong = crew_of(job, "Sam Orrin", "Rowan")
    later = NOW + timedelta(hours=1)
    voided.voided_at, voided.voided_by_name, voided.void_reason = later, "O. Owner", "Another job"
    voided.save()
    time_entry(wrong.worker, job, -480, DAY, reverses=wrong, request_key="back", note="Wrong day")
    office = as_("office")
    assert changes_of(office, job)[0] == ("O. Owner", "8 h of work on Wed 30 Sep 2026 voided")
    assert ("L. Lead", "8 h of work on Wed 30 Sep 2026 reversed") in changes_of(office, job)
    assert "Another job" in lines_of(office, job) and "Wrong day" in lines_of(office, job)


def test_hours_left_are_told_by_step(as_, job):
    hours_left(job, "framing", 1980, percent_done=40)
    hours_left(job, "boards", 0, is_done=True)
    owner = as_("owner")
    assert changes_of(owner, job).count(("L. Lead", "hours left entered")) == 2
    page = lines_of(owner, job)
    assert "33 h, 40 % done" in page and "done" in page


def test_more_hours_take_no_more_queries(as_, job):
    crew_of(job, "Sam Orrin")
    owner = as_("owner")
    few = queries_of(owner, reverse("job_history", args=[job.pk]))
    crew_of(job, "Rowan", "Ada", request_key="again")
    assert queries_of(owner, reverse("job_history", args=[job.pk])) <= few
