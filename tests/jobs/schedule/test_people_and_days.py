"""Who is on a job, and its activities begun and ended from site, on the pages and over the API.

Days worked by hand on the worked example of Larkmoor Dental, its start moved to Mon 23 Nov 2026 and its own days taken
out: setting out 23, framing 24 and 25, inspection 26, boards 27 and 30. Today is Wed 25 Nov 2026.
"""

from datetime import date

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from jobs.jobs.models import Job
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.schedule.models import ActualDays, NamedPerson, PlannedActivityDays
from jobs.whole_jobs.services.job_entries import save_job_head
from quoting.platform import clock
from quoting.platform.people.services.people import change_person
from tests.stored import stored_job
from tests.support.asking import reasons
from tests.support.desk import DAY, as_, opened

__all__ = ["as_"]
NOVEMBER = {"start_on": "2026-11-23", "activities": [], "dates": []}
INES = {"people-0-name": "Ines Quarrell", "people-0-part": "lead"}


@pytest.fixture
def dental(frozen_clock, db):
    frozen_clock.move_to(DAY)
    job = stored_job("larkmoor-dental")
    change(job, **NOVEMBER)
    return job


def change(job, **entries):
    save_job_head(job, {"job": entries}, seen_version=None)


def dated(*jobs):
    for job in jobs:
        keep_needs(job.pk, *find_needs(job.pk, DAY.date()), clock.now())


def tap(client, job, do, activity="framing", **more):
    page = client.post(reverse("activity_actual", args=[job.pk]), {"do": do, "activity": activity, **more}, follow=True)
    return [str(entry) for entry in page.context["messages"]]


@pytest.mark.both_engines
def test_the_lead_begins_an_activity_once_and_what_follows_moves(as_, dental):
    lead = as_("lead")
    assert tap(lead, dental, "begin") == tap(lead, dental, "begin") == ["Began on Wed 25 Nov, says the-lead."]
    assert ActualDays.objects.get().history.count() == 1
    dated(dental)
    # Framing a day late: 25 and 26, inspection 27, boards 30 Nov and 1 Dec.
    boards = PlannedActivityDays.objects.get(key="boards")
    assert (boards.first_day, boards.last_day) == (date(2026, 11, 30), date(2026, 12, 1))


@pytest.mark.both_engines
def test_a_begin_and_an_end_are_taken_back_one_after_the_other(as_, dental):
    lead = as_("lead")
    assert tap(lead, dental, "end") == ["Track and studs has not begun. Begin it first."]
    tap(lead, dental, "begin", on="2026-11-24")
    assert tap(lead, dental, "end") == ["Ended on Wed 25 Nov, says the-lead."]
    assert tap(lead, dental, "take_begin_back") == ["It has ended. Undo its end first."]
    tap(lead, dental, "take_end_back")
    assert ActualDays.objects.get().ended_on is None
    tap(lead, dental, "take_begin_back")
    assert not ActualDays.objects.exists()


@pytest.mark.parametrize(
    ("activity", "on", "says"),
    [
        ("framing", "2026-11-26", "has not come yet"),
        ("framing", "soon", "on"),
        ("scaffold", "", 'has no activity "scaffold"'),
    ],
)
def test_what_cannot_have_begun_is_told_and_not_kept(as_, dental, activity, on, says):
    assert says in tap(as_("lead"), dental, "begin", activity, on=on)[0]
    assert not ActualDays.objects.exists()


@pytest.mark.both_engines
def test_another_day_is_not_written_over_the_first(as_, dental):
    lead = as_("lead")
    tap(lead, dental, "begin", on="2026-11-24")
    assert "Undo that first" in tap(lead, dental, "begin", on="2026-11-23")[0]
    assert ActualDays.objects.get().began_on == date(2026, 11, 24)


def test_a_begin_stands_in_the_history_under_its_name(as_, dental):
    tap(as_("lead"), dental, "begin")
    changes = as_("owner").get(reverse("job_history", args=[dental.pk])).context["changes"]
    assert [entry.who for entry in changes if "framing" in entry.what] == ["the-lead"]


def test_the_office_names_people_and_a_wrong_row_is_told_beside_it(as_, dental):
    office, page = as_("office"), reverse("job_people", args=[dental.pk])
    sent = opened(office, page) | INES
    wrong = office.post(page, sent | {"people-0-first_day": "2026-12-05", "people-0-last_day": "2026-12-04"})
    assert wrong.status_code == 422 and "is before the first day" in wrong.content.decode()
    assert office.post(page, sent).status_code == 302
    person = NamedPerson.objects.get()
    assert (person.name, person.part, person.first_day) == ("Ines Quarrell", "lead", None)
    # The control: the page as it was before the first saved it is late.
    assert office.post(page, sent | {"form_key": "f" * 32, "people-0-name": "R. Sallow"}).status_code == 409
    assert as_("lead").get(page).status_code == 403


def test_somebody_named_to_two_jobs_on_one_day_is_told_by_name(as_, dental, asker):
    other = stored_job("merrow-finch-boutique")
    change(other, start_on="2026-11-23")
    for job in (dental, other):
        change(job, people=[{"name": "Ines Quarrell"}])
    dated(dental, other)
    office = as_("office")
    [(clash, jobs), *_] = office.get(reverse("crew_clashes")).context["named"]
    assert (clash.name, clash.first_day) == ("Ines Quarrell", DAY.date())
    assert {job.key for job in jobs} == {dental.key, other.key}
    shown = office.get(reverse("today")).content.decode()
    assert "Move Ines Quarrell" in shown and "Named to 2 jobs at once" in shown
    message = asker("estimator").get("/api/crew-clashes").json()["named_twice"]
    assert message[0]["name"] == "Ines Quarrell" and set(message[0]["jobs"]) == {dental.key, other.key}
    # The control: with other days for one of the two she is in one place.
    change(other, people=[{"name": "Ines Quarrell", "last_day": "2026-11-24"}])
    assert office.get(reverse("crew_clashes")).context["named"] == []


@pytest.mark.both_engines
def test_whoever_is_called_otherwise_stays_named_to_their_jobs(dental, make_person):
    person = make_person("lead", "kit")
    change(dental, people=[{"name": "KIT"}, {"name": "Kit Orme"}])
    change_person(person.pk, full_name="Kit Sallow", role="lead", is_active=True)
    assert list(NamedPerson.objects.values_list("name", flat=True)) == ["Kit Sallow", "Kit Orme"]


def test_a_begin_and_an_end_over_the_api_are_said_once_and_taken_back(lead, dental):
    begin, end = (f"/api/jobs/{dental.key}/activities/framing/{what}" for what in ("begin", "end"))
    assert lead.post(end).status_code == 409
    first, second = lead.post(begin, {"on": "2026-11-24"}), lead.post(begin)
    assert first.json() == second.json() and first.json()["began_on"] == "2026-11-24"
    assert reasons(lead.post(end, {"on": "2026-11-23"})) == {
        "on": "Mon 23 Nov 2026 is before Tue 24 Nov 2026, when it began"
    }
    assert lead.post(end).json()["ended_on"] == "2026-11-25"
    schedule = lead.get(f"/api/jobs/{dental.key}/schedule").json()["activities"]
    assert [entry["ended_on"] for entry in schedule if entry["key"] == "framing"] == ["2026-11-25"]
    assert lead("DELETE", begin).status_code == 409
    assert [lead("DELETE", path).status_code for path in (end, begin)] == [204, 204]
    assert not ActualDays.objects.exists()


def test_real_days_are_not_entered_with_the_job_as_a_whole(estimator, dental):
    days = [{"key": "framing", "began_on": "2026-11-24", "began_by": "Ines"}]
    answer = estimator.as_read("PATCH", f"/api/jobs/{dental.key}", {"job": {"actual_days": days}})
    assert answer.status_code == 400 and "job.actual_days" in reasons(answer)


def test_people_and_real_days_travel_with_the_job_file(dental, make_person):
    from quoting.job_files.services.job_files import export_job_file, import_job_file

    change(dental, people=[{"name": "Ines Quarrell", "part": "lead"}])
    ActualDays.objects.create(job=dental, key="framing", began_on=DAY.date(), began_by="Ines Quarrell")
    file = export_job_file(Job.objects.get(pk=dental.pk), DAY.date())
    file["job"]["key"] = "J-0777"
    copy = import_job_file(file, now=DAY)
    assert copy.to_core().people == Job.objects.get(pk=dental.pk).to_core().people
    assert copy.actual_days.get().to_core() == dental.actual_days.get().to_core()


@pytest.mark.both_engines
def test_the_database_takes_no_end_without_its_begin_or_its_name(dental):
    for wrong in ({"ended_on": date(2026, 11, 23), "ended_by": "I"}, {"ended_on": DAY.date()}, {"ended_by": "I"}):
        with pytest.raises(IntegrityError), transaction.atomic():
            ActualDays.objects.create(job=dental, key="boards", began_on=DAY.date(), began_by="I", **wrong)
