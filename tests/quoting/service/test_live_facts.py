"""The facts at the foot of a phone and the red numbers of a job's rooms, from kept rows. Today: Mon 5 Oct 2026."""

import re
from datetime import date

import pytest
from django.urls import reverse

from jobs.jobs.models import Job, WorkedJob
from jobs.jobs.services import signed as signed_work
from jobs.needs.models import StoredNeed
from quoting.life.models import KeptLife
from quoting.service.services.live_facts import live_facts
from quoting.service.services.waiting_counts import waiting_counts
from tests.stored import stored_job
from tests.support.desk import as_

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
TODAY = date(2026, 10, 5)


@pytest.fixture
def job():
    return stored_job("larkmoor-dental")


def kept(job, **facts):
    KeptLife.objects.update_or_create(job=job, defaults={"facts": {"opened_on": "2026-09-01", "client": "Ada"} | facts})


def item(day):
    return {"material": "BASE", "name": "Base", "custom": True, "decide_by": None, "order_by": day}


def wanted(job, number, day):
    days = dict.fromkeys(("decide_by", "order_by", "ship", "dock", "need_by"), day)
    item = {"material": f"BASE-{number}", "name": "Base", "supply": "custom_made", "unit": "ft", "driven_by": "radius"}
    StoredNeed.objects.create(job=job, **item, **days, quantity=4, cushion_workdays=3, sign_off_workdays=5)


@pytest.fixture
def signed(monkeypatch):
    monkeypatch.setattr(signed_work, "_readers", [lambda: Job.objects.values_list("pk", flat=True)])


def fact(place):
    return live_facts(frozenset({place}), TODAY)[place]


@pytest.mark.parametrize(
    ("days", "text"),
    [
        (["2026-10-02", "2026-10-05", None], "1 item late"),
        (["2026-10-15", "2026-10-08"], "Thu 8"),
        ([None], "none due"),
    ],
)
def test_buying_says_what_of_signed_jobs_is_late_or_when_the_first_is_due(job, signed, days, text):
    for number, day in enumerate(days):
        wanted(job, number, day)
    assert fact("order_dates") == text


def test_what_nobody_signed_is_not_due_nor_what_is_on_order(job, request):
    wanted(job, 1, "2026-10-02")
    assert fact("order_dates") == "none due"
    request.getfixturevalue("signed")
    StoredNeed.objects.update(to_order=False)
    assert fact("order_dates") == "none due"


def test_receiving_counts_orders_that_are_due_and_each_once(job, signed):
    coming = [("O-1", "2026-10-05"), ("O-1", "2026-10-02"), ("O-2", "2026-10-06"), ("O-3", None)]
    rows = [{"order": order, "what": "Base", "expected_on": day, "need_by": None} for order, day in coming]
    kept(job, coming=rows)
    assert fact("receiving") == "1 due"


def test_jobs_says_how_many_are_late_else_how_many_are_open(job):
    kept(job)
    assert fact("job_list") == "1 open"
    KeptLife.objects.update(next_by=date(2026, 10, 2))
    assert fact("job_list") == "1 job late"


def test_the_rooms_of_a_job_count_what_waits_in_each(job):
    message = [{"sentence": "Too tight.", "decide": True}, {"sentence": "No start."}]
    WorkedJob.objects.update_or_create(job=job, defaults={"findings": message})
    kept(job, before_sending=2, dimensions=6, signed_on="2026-09-01", to_order=[item("2026-10-02"), item("2026-10-09")])
    assert waiting_counts(job, TODAY) == {"walls": 1, "price": 2, "buying": 1, "site": 6}


def test_the_rooms_of_a_closed_job_count_nothing(as_, job):
    kept(job, dimensions=6, signed_on="2026-09-01", to_order=[item("2026-10-02")])
    Job.objects.update(closed_on=date(2026, 10, 2))
    page = as_("office").get(reverse("job", args=[job.pk])).content.decode()
    assert 'class="rooms"' in page and '<sup class="count">' not in page


def test_the_rooms_show_their_numbers_in_red_and_say_what_they_are(as_, job):
    kept(job, before_sending=2)
    page = as_("office").get(reverse("quote", args=[job.pk])).content.decode()
    assert 'Price<sup class="count"><span class="visually-hidden">, to decide: </span>2</sup>' in page


def test_a_lead_sees_three_rooms(as_, job):
    page = as_("lead").get(reverse("site_sheet", args=[job.pk])).content.decode()
    rooms = page[page.index('<nav class="rooms"') :]
    assert re.findall(r">([A-Z][a-z]+)<", rooms[: rooms.index("</nav>")]) == ["Walls", "Buying", "Site"]


def test_the_room_of_the_walls_names_each_wall_and_marks_the_one_shown(as_, job):
    page = as_("office").get(reverse("wall", args=[job.pk, "reception-screen"])).content.decode()
    views = page[page.index('<nav aria-label="Walls of this job"') :]
    assert '<b aria-current="page">Reception screen</b>' in views[: views.index("</nav>")]
    assert re.findall(r">([A-Z][a-z ]+)</a>", views[: views.index("</nav>")]) == ["Add a wall"]
