"""The pages of a job's activities, of the chance of its promised day, and of crews wanted twice.

Days worked by hand on the worked example of Larkmoor Dental: start Mon 4 Jan 2027; trim held until 25 Jan, paint on 26.
"""

from datetime import date

import pytest
from django.urls import reverse

from catalog.core.ground.workdays import calendar_with
from catalog.models import Standard
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.schedule.models import ActivityLink, OwnActivity, PlannedActivityDays
from jobs.whole_jobs.services.job_entries import save_job_head
from quoting.platform import clock
from quoting.service.services.desk_todos import todos_of_crews
from tests.stored import stored_job
from tests.support.desk import DAY, as_, fields_of, queries_of

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]


@pytest.fixture
def dental(frozen_clock, db):
    frozen_clock.move_to(DAY)
    return stored_job("larkmoor-dental")


def change(job, **entries):
    save_job_head(job, {"job": entries}, seen_version=None)


def text_of(client, name, *args):
    return client.get(reverse(name, args=args)).content.decode()


def dated(*jobs):
    for job in jobs:
        pair = find_needs(job.pk, date(2026, 11, 25))
        assert pair is not None
        keep_needs(job.pk, *pair, clock.now())


def test_critical_is_said_in_words_and_the_slack_to_the_promised_day_counted(as_, dental):
    change(dental, promised_on="2027-01-29")
    page = as_("lead").get(reverse("job_dates", args=[dental.pk]))
    lines = {entry.line.activity.key: entry.line for entry in page.context["lines"]}
    # Trim and paint alone set the end, for trim is held; what comes before has float.
    assert [key for key, line in lines.items() if line.activity.times.critical] == ["trim", "paint"]
    assert page.context["slack"] == "3 working days to spare" and "<strong>Critical</strong>" in page.content.decode()
    assert 'role="img"' in page.context["svg"]


def test_a_lead_sees_no_supplier_and_no_money_on_any_of_the_pages(as_, dental):
    dated(dental)
    lead = as_("lead")
    shown = [text_of(lead, name, dental.pk) for name in ("job_dates", "job_chance")]
    shown.append(text_of(lead, "crew_clashes"))
    assert not any(word in text for text in shown for word in ("Hennock", "Tollard", "USD"))


def test_an_activity_and_a_link_of_the_job_s_own_are_entered_previewed_and_taken_out_again(as_, dental):
    office, path = as_("office"), reverse("job_dates", args=[dental.pk])

    def shown():
        context = office.get(path).context
        sent = {"seen_version": context["version"], **fields_of(context["form"].promise)}
        for rows in context["form"].rows.values():
            for form in rows.forms:
                sent |= fields_of(form)
        return sent

    typed = {
        "promised_on": "2027-02-05",
        "own_activities-0-name": "Fire stopping",
        "own_activities-0-duration_workdays": "20",
        "own_activities-0-after": "framing",
        "own_activities-0-before": "boards",
        "links-0-after": "coat-1",
        "links-0-before": "boards",
        "links-0-lag_elapsed_hours": "72",
    }
    looked = office.post(reverse("job_dates_preview", args=[dental.pk]), shown() | typed)
    moves = looked.context["moves"]
    assert moves.slack_before is None and moves.slack_after < 0 and "too late" in looked.content.decode()
    assert not OwnActivity.objects.exists(), "a preview keeps nothing"
    assert office.post(path, shown() | typed).status_code == 302
    dental.refresh_from_db()
    assert (dental.promised_on, dental.start_on) == (date(2027, 2, 5), date(2027, 1, 4))
    assert OwnActivity.objects.get().key == "fire-stopping" and ActivityLink.objects.get().lag_elapsed_hours == 72
    empty = {name: "" for name in shown() if name.startswith(("own_activities-0", "links-0"))}
    assert office.post(path, shown() | empty | {"promised_on": ""}).status_code == 302
    dental.refresh_from_db()
    assert dental.promised_on is None and not OwnActivity.objects.exists() and not ActivityLink.objects.exists()


def test_what_an_activity_cannot_be_is_said_beside_its_field(as_, dental):
    sent = {"seen_version": dental.version, "own_activities-0-name": "Scaffold", "own_activities-0-kind": "hold"}
    sent |= {"own_activities-0-duration_workdays": "2", "promised_on": "soon"}
    answer = as_("office").post(reverse("job_dates", args=[dental.pk]), sent)
    form = answer.context["form"]
    assert answer.status_code == 422
    assert "a hold has no length" in str(form.own.forms[0].errors["duration_workdays"])
    assert form.promise.errors["promised_on"]


def test_the_chance_page_says_the_share_its_days_and_how_it_came(as_, dental):
    change(dental, promised_on="2027-06-30")
    page = as_("office").get(reverse("job_chance", args=[dental.pk]))
    assert page.context["chance"] == "100 %" and "beta-PERT" in page.content.decode()


def test_the_chance_page_names_what_is_missing(as_, dental):
    Standard.objects.filter(name="longest_duration_share").delete()
    assert "longest_duration_share" in text_of(as_("office"), "job_chance", dental.pk)


def test_two_jobs_with_the_same_crew_on_the_same_days_are_flagged_on_their_page_and_today(as_, dental):
    # Feature table, row 79.
    other = stored_job("merrow-finch-boutique")
    change(other, start_on="2027-01-04")
    dated(dental, other)
    office = as_("office")
    (first, *_) = office.get(reverse("crew_clashes")).context["lines"]
    assert first.clash.first_day == date(2027, 1, 4) and (first.clash.wanted, first.clash.there) == (4, 2)
    assert {job.key for job, *_ in first.wanting} == {dental.key, other.key}
    calendar = calendar_with("Firm", ())
    assert [crew.text for crew in todos_of_crews(DAY.date(), calendar)] == ["Move a crew"]
    # The control: with people enough nobody is wanted twice.
    Standard.objects.filter(name="people_on_site").update(value=4)
    assert not list(todos_of_crews(DAY.date(), calendar))


def test_the_days_kept_follow_the_job_and_are_not_written_anew_when_they_stand(as_, dental):
    dated(dental)
    before = set(PlannedActivityDays.objects.values_list("pk", "first_day"))
    dated(dental)
    assert before and set(PlannedActivityDays.objects.values_list("pk", "first_day")) == before
    change(dental, start_on="2027-01-11", activities=[])
    dated(dental)
    assert min(PlannedActivityDays.objects.values_list("first_day", flat=True)) == date(2027, 1, 11)


def test_more_planned_days_ask_the_database_no_more(as_, dental):
    office, path = as_("office"), reverse("crew_clashes")

    def too_many_on(number):
        days = {"first_day": date(2027, 3, number), "last_day": date(2027, 3, number)}
        PlannedActivityDays.objects.create(job=dental, key="more", name="More", people=5, **days)

    too_many_on(1)
    few = queries_of(office, path)
    for number in range(2, 20):
        too_many_on(number)
    assert queries_of(office, path) == few


def test_the_page_of_days_offers_a_tap_for_what_is_next_and_for_each_line(as_, dental):
    lead, path = as_("lead"), reverse("job_dates", args=[dental.pk])
    assert [entry.name for entry in lead.get(path).context["to_tap"]] == ["Setting out"]
    lead.post(reverse("activity_actual", args=[dental.pk]), {"do": "begin", "activity": "framing"})
    shown = lead.get(path)
    assert [(entry.name, entry.begun) for entry in shown.context["to_tap"]] == [("Track and studs", DAY.date())]
    assert 'form="tap-boards"' in shown.content.decode() and 'id="tap-boards"' in shown.content.decode()


def test_the_page_of_days_asks_for_the_chance_in_one_sentence_only_of_a_promised_day(as_, dental):
    office, path = as_("office"), reverse("job_chance", args=[dental.pk])
    assert path not in text_of(office, "job_dates", dental.pk)
    change(dental, promised_on="2027-06-30")
    assert path in text_of(office, "job_dates", dental.pk)
    sentence = office.get(path, headers={"HX-Request": "true"}).content.decode()
    assert "Chance to be done in time: <strong>100 %</strong>" in sentence and "<main" not in sentence


def test_the_old_address_of_activities_leads_to_the_days(as_, dental):
    answer = as_("lead").get(f"/jobs/{dental.pk}/site/activities/")
    assert (answer.status_code, answer["Location"]) == (301, reverse("job_dates", args=[dental.pk]))
