"""What stands on somebody's own day: their sites, what comes there, and the steps that are theirs.

Days worked by hand on the worked example of Larkmoor Dental, its start moved to Mon 23 Nov 2026 and its own days taken
out: setting out 23, framing 24 and 25, inspection 26. Today is Wed 25 Nov 2026.
"""

from datetime import date, timedelta

import pytest
from django.test import Client
from django.urls import reverse

from catalog.models import Material
from jobs.jobs.models import Job
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.walls.models import Wall
from jobs.whole_jobs.services.job_entries import save_job_head
from quoting.platform import clock
from tests.factories.orders import placed_order
from tests.stored import stored_job
from tests.support.desk import DAY, as_, queries_of

__all__ = ["as_"]


@pytest.fixture
def dental(frozen_clock, db):
    frozen_clock.move_to(DAY)
    job = stored_job("larkmoor-dental")
    change(job, start_on="2026-11-23", activities=[], dates=[])
    return job


def change(job, **entries):
    save_job_head(Job.objects.get(pk=job.pk), {"job": entries}, seen_version=None)
    keep_needs(job.pk, *find_needs(job.pk, DAY.date()), clock.now())


def own(client):
    return client.get(reverse("today")).context["own"]


def said(client):
    return [(entry.step.kind, entry.url) for entry in client.get(reverse("today")).context["own_steps"]]


def test_the_lead_reads_todays_activity_and_place_and_begins_it_there(as_, dental):
    lead = as_("lead")
    page = lead.get(reverse("today")).content.decode()
    assert "<strong>Track and studs</strong>, day 2 of 2" in page and "<h1>Reception screen</h1>" in page
    assert reverse("site_sheet", args=[dental.pk]) in page
    sent = {"do": "begin", "activity": "framing", "back": "today"}
    answer = lead.post(reverse("activity_actual", args=[dental.pk]), sent, follow=True)
    assert answer.redirect_chain[-1][0] == reverse("today")
    # Begun a day late, today is its first.
    assert [(activity.key, activity.day) for activity in own(lead).activities] == [("framing", 1)]


@pytest.mark.both_engines
def test_what_goes_on_past_its_days_stays_until_its_end_is_said(as_, dental, frozen_clock):
    lead = as_("lead")
    lead.post(reverse("activity_actual", args=[dental.pk]), {"do": "begin", "activity": "framing", "on": "2026-11-24"})
    frozen_clock.move_to(DAY + timedelta(days=5))
    # Mon 30 Nov: 24, 25, 26, 27 and 30 are five working days.
    assert [(activity.key, activity.day) for activity in own(lead).activities if activity.actual] == [("framing", 5)]


def test_a_job_of_another_lead_is_not_on_this_day(as_, dental):
    lead = as_("lead")
    assert own(lead).jobs == (dental,)
    change(dental, people=[{"name": "Ines Quarrell", "part": "lead"}])
    assert own(lead).jobs == () and "No site today." in lead.get(reverse("today")).content.decode()
    change(dental, people=[{"name": "Ines Quarrell", "part": "lead"}, {"name": "THE-LEAD"}])
    assert own(lead).jobs == (dental,)
    # Named from tomorrow, the job is theirs and today's activity is not.
    change(dental, people=[{"name": "the-lead", "part": "lead", "first_day": "2026-11-26"}])
    assert own(lead).jobs == (dental,) and own(lead).activities == ()
    # Named until yesterday, they are there no more.
    change(dental, people=[{"name": "I", "part": "lead"}, {"name": "the-lead", "last_day": "2026-11-24"}])
    assert own(lead).jobs == ()


@pytest.mark.both_engines
def test_goods_of_their_jobs_expected_by_today_are_named(as_, dental):
    material, lead = Material.objects.exclude(supplier=None).first(), as_("lead")
    for day in (24, 25, 26):
        placed_order(dental, material, material.supplier, promised_on=date(2026, 11, day))
    assert [delivery.expected_on.day for delivery in own(lead).deliveries] == [24, 25]
    assert material.supplier.name not in lead.get(reverse("today")).content.decode()


@pytest.mark.both_engines
def test_a_field_check_that_is_due_is_one_link_and_goes_with_the_check(as_, dental):
    lead, wall = as_("lead"), dental.walls.get()
    # Made to its radius, the base waits for the check of the framed wall.
    wall.trims.update(form="pre_curved")
    change(dental)
    check = reverse("field_check", args=[dental.pk, wall.key])
    assert said(lead) == [("dimension", check), ("field_check", check)]
    rows = lead.get(check).context["rows"]
    sent = {row.entry: row.quoted.rstrip("°") for row in rows} | {"do": "keep", "seen_version": wall.version}
    assert lead.post(check, sent).status_code == 302
    assert said(lead) == []


def test_dimensions_nobody_stands_for_are_gathered_by_their_wall(as_, dental):
    wall = Wall.objects.get(job=dental)
    wall.marks.all().delete()
    change(dental)
    steps = as_("lead").get(reverse("today")).context["own_steps"]
    [measure] = [step for step in steps if step.step.kind == "dimension"]
    assert measure.url == reverse("field_check", args=[dental.pk, wall.key]) and measure.wall == wall.name
    assert measure.step.sentence == "Measure or confirm 6 dimensions."


def test_each_sees_the_step_that_is_theirs(as_, dental):
    def mine(role):
        context = as_(role).get(reverse("today")).context
        return [row.todo.text for row in (*context["near"], *context["soon"])]

    # No price is stored; the base must be signed off by Thu 3 Dec, six working days on.
    estimator, office = mine("estimator"), mine("office")
    assert "Price the job" in estimator and not any(entry.startswith("Order ") for entry in estimator)
    assert "Price the job" not in office and "Have the base signed off" in office


def test_a_template_to_trace_leads_to_the_register_and_goes_once_it_is_held(as_, dental):
    library, lead = stored_job("ashgrove-library"), as_("lead")
    library.walls.get().trims.filter(position="cap").update(form="template")
    change(library)
    [register] = [url for kind, url in said(lead) if kind == "template"]
    assert register.startswith(reverse("templates", args=[library.pk]))
    cap = library.walls.get().trims.get(position="cap")
    sent = {"name": "T1", "place": f"{cap.wall.key}|{cap.name}", "shape": "Back of the cap", "kept_at": "Rack"}
    lead.post(register, sent | {"traced_by": "Ines", "traced_on": "2026-11-24"})
    assert "template" not in {kind for kind, _ in said(lead)}


def test_the_api_says_the_same_of_whoever_asks(lead, dental):
    asks = lead.get("/api/today").json()
    assert (asks["today"], asks["jobs"]) == ("2026-11-25", [dental.key])
    assert [(entry["activity"], entry["day"], entry["days"]) for entry in asks["activities"]] == [("framing", 2, 2)]
    assert asks["activities"][0]["signed"] is False
    assert {(entry["kind"], entry["wall"]) for entry in asks["steps"]} == {("dimension", dental.walls.get().key)}
    assert (asks["next"], asks["waiting_for"]) == ([], [])


def test_the_api_says_what_is_next_at_a_desk_as_the_page_does(as_, office, dental):
    does, desk = office.get("/api/today").json(), Client()
    desk.force_login(office.person)
    shown = desk.get(reverse("today")).context
    assert [entry["what"] for entry in does["next"]] == [row.todo.text for row in (*shown["near"], *shown["soon"])]
    assert does["next"] and {entry["who"] for entry in does["waiting_for"]} == {
        entry.who for entry, _, _ in shown["waiting"]
    }


@pytest.mark.both_engines
def test_more_jobs_take_no_more_queries(as_, dental):
    other, lead = stored_job("merrow-finch-boutique"), as_("lead")
    for job in (other, dental):
        change(job)
    both = queries_of(lead, reverse("today"))
    Job.objects.filter(pk=other.pk).update(closed_on=DAY.date())
    assert both <= queries_of(lead, reverse("today"))
