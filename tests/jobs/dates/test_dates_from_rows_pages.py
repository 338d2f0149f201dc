"""The pages of dates read from rows: as many queries for many jobs as for few, and never old without saying so."""

from copy import deepcopy
from datetime import UTC, date, datetime

import pytest
from django.urls import reverse

from catalog.services.suppliers import add_closure
from jobs.dates.pages import listing
from jobs.dates.services import item_schedule
from jobs.dates.services.kept_to_order import keep_to_order
from jobs.jobs.models import Job, WorkedJob
from jobs.needs.models import StoredNeed
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.models import Order, OrderLine
from tests.stored import stored_job, stored_jobs
from tests.support.desk import DAY, as_, queries_of

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]

TODAY = date(2026, 11, 25)
PAGES = ("today", "order_dates")


@pytest.fixture(autouse=True)
def at_the_day(frozen_clock):
    frozen_clock.move_to(DAY)
    return frozen_clock


@pytest.fixture
def dental(db):
    job = stored_job("larkmoor-dental")
    dated(job)
    return job


def dated(job):
    keep_needs(job.pk, *find_needs(job.pk, TODAY), DAY)


def copies(job: Job, count: int) -> list[Job]:
    """Further jobs with the same rows: what a page reads of them, without the walls it must not read."""
    made, rows = [], list(StoredNeed.objects.filter(job=job))
    head = WorkedJob.objects.get(pk=job.pk)
    for number in range(count):
        entry = Job.objects.create(
            key=f"C-{Job.objects.count():04d}", title=f"Copy {number}", client=job.client, created_at=DAY
        )
        copied = deepcopy(head)
        copied.pk = entry.pk
        copied.save(force_insert=True)
        for row in rows:
            row.pk, row.job = None, entry
        StoredNeed.objects.bulk_create(rows)
        made.append(entry)
    return made


def lines(client, **wanted):
    return client.get(reverse("order_dates"), wanted).context["lines"]


def as_read(result):
    return {(line.job.key, line.need.material): (line.need, line.hand, line.blocked) for line in result}


@pytest.mark.django_db
def test_rows_show_what_a_live_work_up_shows_on_the_four_worked_examples(as_):
    office, jobs = as_("office"), stored_jobs()
    live = {name: office.get(reverse(name)) for name in PAGES}
    for job in jobs:
        dated(job)
    rows = {name: office.get(reverse(name)) for name in PAGES}
    assert as_read(rows["order_dates"].context["lines"]) == as_read(live["order_dates"].context["lines"])
    for name in ("near", "soon"):
        assert rows["today"].context[name] == live["today"].context[name]
    assert set(rows["order_dates"].context["gaps"]) == set(live["order_dates"].context["gaps"])


def test_thirty_jobs_ask_the_database_no_more_than_three(as_, dental):
    office = as_("office")
    copies(dental, 2)
    office.get(reverse("today"))  # the first visit is kept
    few = {name: queries_of(office, reverse(name)) for name in PAGES}
    copies(dental, 27)
    assert {name: queries_of(office, reverse(name)) for name in PAGES} == few


def test_a_stale_job_or_two_are_worked_up_live_and_more_are_said_to_be_worked_out(as_, dental, monkeypatch):
    office, others = as_("office"), copies(dental, 2)
    WorkedJob.objects.update(changes=2)
    monkeypatch.setattr(item_schedule, "MAX_LIVE", 3)
    result = office.get(reverse("order_dates"))
    # The copies have no walls: worked up live they want nothing.
    assert not result.context["awaited"] and {line.job.pk for line in result.context["lines"]} == {dental.pk}
    monkeypatch.setattr(item_schedule, "MAX_LIVE", 2)
    WorkedJob.objects.update(changes=3)
    for name in PAGES:
        page = office.get(reverse(name))
        assert "being worked out after a change" in page.content.decode()
        assert {job.pk for job in page.context["awaited"]} == {dental.pk, *(other.pk for other in others)}
    assert {line.as_of for line in lines(office)} == {TODAY}


def test_without_workers_a_new_day_shows_the_old_dates_with_their_day_and_counts_from_today(
    as_, dental, at_the_day, monkeypatch
):
    monkeypatch.setattr(item_schedule, "MAX_LIVE", 0)
    at_the_day.move_to(datetime(2026, 12, 9, 15, 0, tzinfo=UTC))
    page = as_("office").get(reverse("order_dates"))
    base = next(line for line in page.context["lines"] if line.need.material == "BASE-514-FLEX")
    # Worked example, part B: order-by Thu 10 Dec 2026.
    assert (base.hand, base.as_of) == ("1 working day in hand", TODAY)
    assert "As of Wed 25 Nov" in page.content.decode() and not page.context["awaited"]


def test_a_change_of_the_catalog_shows_at_once_while_jobs_are_few(as_, dental):
    add_closure({"first": "2026-12-07", "last": "2026-12-11"}, "HENNOCK")
    base = next(line for line in lines(as_("office")) if line.need.material == "BASE-514-FLEX")
    assert base.dates.order_by < date(2026, 12, 10) and base.as_of is None


def test_pages_follow_on_each_other_with_live_items_in_their_place(as_, dental, monkeypatch):
    office = as_("office")
    others = copies(dental, 3)
    whole = [(line.job.pk, line.need.material) for line in lines(office)]
    WorkedJob.objects.filter(pk=dental.pk).update(changes=2)
    monkeypatch.setattr(listing, "ITEMS_A_PAGE", 7)
    page, read = 1, []
    while True:
        result = office.get(reverse("order_dates"), {"page": page}).context
        read += [(line.job.pk, line.need.material) for line in result["lines"]]
        if page == result["listing"].pages:
            break
        page += 1
    assert len(others) == 3 and len(read) == len(set(read)) and set(read) == set(whole)
    assert page == -(-len(whole) // 7)
    assert office.get(reverse("order_dates"), {"page": "99999"}).context["listing"].page == page


def test_the_next_person_stands_beside_what_blocks_an_item(as_, dental):
    result = lines(as_("office"))
    base = next(line for line in result if line.need.material == "BASE-514-FLEX")
    assert any(
        "No quote of this job is accepted" in entry.sentence and entry.who == "the estimator" for entry in base.blocked
    )
    stocked = next(line for line in result if line.need.material == "TRACK-358")
    assert stocked.blocked == ()


def test_what_is_on_order_leaves_what_is_to_order_and_shows_its_slack(as_, dental):
    office = as_("office")
    before = len(lines(office))
    placed_line(dental, promised_on=date(2027, 1, 22))
    assert len(lines(office)) == before - 1
    shown = office.get(reverse("today")).context
    assert not any("Order base" in row.todo.text for row in (*shown["near"], *shown["soon"]))
    assert office.get(reverse("order_dates")).context["listing"].ordered_count == 1
    (base,) = lines(office, show="ordered")
    # Needed on Mon 25 Jan 2027 with a cushion of 3 days: a Friday's delivery is relied on from the Wednesday after.
    assert (base.need.material, base.spare) == ("BASE-514-FLEX", "2 working days too late")
    on_the_job = office.get(reverse("job_order_dates", args=[dental.pk]), {"show": "ordered"})
    assert "2 working days too late" in on_the_job.content.decode()
    assert placed_line(dental, promised_on=date(2027, 1, 12)) and lines(office, show="ordered")


def test_what_should_be_here_and_is_not_is_overdue_and_counted_as_if_it_came_today(as_, dental, at_the_day):
    """Needed on Mon 25 Jan 2027, cushion 3 days, Monday the 18th a holiday: come on Wed 20 it is usable on the day."""
    placed_line(dental, promised_on=date(2027, 1, 19))
    at_the_day.move_to(datetime(2027, 1, 20, 15, 0, tzinfo=UTC))
    office = as_("office")
    (base,) = lines(office, show="ordered")
    page = office.get(reverse("order_dates"), {"show": "ordered"}).content.decode()
    assert base.spare == "overdue; if it came today, on the very day it is needed"
    assert "overdue" in page.casefold() and "<b>0</b>" in page
    assert "<h1>On order</h1>" in page and "Not yet ordered" not in page


def placed_line(job, promised_on):
    order = Order.objects.create(
        number=f"PO-{Order.objects.count() + 1:04d}",
        supplier_id="HENNOCK",
        state="placed",
        way="other",
        request_key=f"key-{Order.objects.count()}",
        made_at=DAY,
        made_by_name="O. Office",
        placed_at=DAY,
        placed_on=TODAY,
        counted_from=TODAY,
        placed_by_name="O. Office",
    )
    need = StoredNeed.objects.get(job=job, material="BASE-514-FLEX")
    line = OrderLine.objects.create(
        order=order,
        place=1,
        job=job,
        material_id="BASE-514-FLEX",
        what=need.name,
        quantity=4,
        unit="pieces",
        statement=need.statement,
        statement_mark="0" * 64,
        need_by=need.need_by,
        promised_on=promised_on,
    )
    keep_to_order([job.pk])
    return line
