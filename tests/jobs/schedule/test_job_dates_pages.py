"""The agreed days of a job: shown, previewed, saved.

Source of the days: the worked example of Larkmoor Dental. Base: cushion 3, order-by Thu 10 Dec 2026; the site open.
"""

import os
from datetime import date
from html import unescape

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalog.models import Material, Supplier
from jobs.jobs.models import Job
from jobs.schedule.models import ActivityChange, JobClosure
from tests.stored import stored_job
from tests.support.desk import DAY, HOSTILE, as_, fields_of, queries_of

__all__ = ["as_"]
EXAMPLES = 30 if os.environ.get("CURVEWRIGHT_TRIAL") else 12
BASE = "BASE-514-FLEX"


@pytest.fixture
def dental(frozen_clock, db):
    frozen_clock.move_to(DAY)
    return stored_job("larkmoor-dental")


@pytest.fixture
def office(as_, dental):
    return as_("office")


def page_of(job, name="job_dates"):
    return reverse(name, args=[job.pk])


def shown(client, job):
    """What a browser would send of the page as it is shown."""
    context = client.get(page_of(job)).context
    sent = {"seen_version": context["version"]}
    for rows in context["form"].rows.values():
        for form in rows.forms:
            sent |= fields_of(form)
    return sent


def field(client, job, row, entry):
    """The name of an entry of the row of that name, such as "trim" or a material's code."""
    form = client.get(page_of(job)).context["form"]
    rows = [*form.activities.forms, *form.dates.forms]
    return next(each for each in rows if each.name == row)[entry].html_name


def order_by(client, job, code):
    lines = client.get(reverse("job_order_dates", args=[job.pk])).context["lines"]
    return next(line for line in lines if line.need.material == code).dates.order_by


def test_saved_as_it_is_shown_nothing_changes(office, dental):
    before = dental.to_core()
    answer = office.post(page_of(dental), shown(office, dental), follow=True)
    assert "No item has other days" in answer.content.decode()
    assert Job.objects.get().to_core() == before


def test_of_rows_that_are_not_opened_the_page_carries_just_what_is_set(office, dental):
    page = office.get(page_of(dental)).content.decode()
    assert "Set working days" not in page and "Cushion days" not in page and "Other items" in page
    trim, base = (field(office, dental, row, "not_before" if row == "trim" else "need_by") for row in ("trim", BASE))
    assert f'<input type="hidden" name="{trim}" value="2027-01-25"' in page and f'name="{base}"' in page
    for row in ("trim", BASE):
        opened = office.get(page_of(dental), {"row": row}).content.decode()
        assert opened.count('class="date-fields" id="fields-') == 1
    assert office.get(page_of(dental), {"row": "items"}).content.decode().count("item-line") == 14


def test_after_a_wrong_entry_every_row_is_shown_with_what_was_typed(office, dental):
    sent = shown(office, dental) | {field(office, dental, "trim", "crew"): "many"}
    page = office.post(page_of(dental), sent)
    assert page.status_code == 422 and page.content.decode().count("Set working days") >= 11


def test_the_computed_figure_stands_beside_what_is_set(office, dental):
    ActivityChange.objects.create(job=dental, key="boards", duration_workdays=9)
    rows = office.get(page_of(dental)).context["activity_rows"]
    boards = next(row for row in rows if row.form.name == "boards")
    # Computed from the takeoff, and still said although nine days are set.
    shown_in = boards.form["duration_workdays"]
    assert shown_in.field.widget.attrs["placeholder"] == "2" and shown_in.value() == 9


def test_a_cushion_agreed_moves_the_order_by_day(office, dental):
    cushion = field(office, dental, BASE, "cushion_workdays")
    sent = shown(office, dental) | {cushion: "4"}
    looked = office.post(page_of(dental, "job_dates_preview"), sent)
    (line,) = looked.context["moved_items"]
    assert (line.order_now, line.order_then) == (date(2026, 12, 10), date(2026, 12, 9))
    assert order_by(office, dental, BASE) == date(2026, 12, 10), "a preview keeps nothing"
    assert office.post(page_of(dental), sent).status_code == 302
    assert order_by(office, dental, BASE) == date(2026, 12, 9)
    assert office.post(page_of(dental), shown(office, dental) | {cushion: ""}).status_code == 302
    assert order_by(office, dental, BASE) == date(2026, 12, 10) and not dental.item_dates.filter(material=BASE)


def test_a_shut_site_is_entered_and_taken_out_again(office, dental):
    sent = shown(office, dental) | {"closed-0-first": "2027-01-25", "closed-0-reason": "Floor laid"}
    office.post(page_of(dental), sent)
    closed = JobClosure.objects.get()
    assert (closed.first_day, closed.last_day, closed.reason) == (date(2027, 1, 25), date(2027, 1, 25), "Floor laid")
    sent = shown(office, dental)
    office.post(page_of(dental), {name: value for name, value in sent.items() if not name.startswith("closed-0")})
    assert not JobClosure.objects.exists()


def test_an_activity_is_left_out_and_stays_to_be_brought_back(office, dental):
    tick = field(office, dental, "inspection", "left_out")
    office.post(page_of(dental), shown(office, dental) | {tick: "on"})
    assert ActivityChange.objects.get(key="inspection").left_out
    row = next(
        entry for entry in office.get(page_of(dental)).context["activity_rows"] if entry.form.name == "inspection"
    )
    assert row.now == "Left out of this job." and row.form["left_out"].value() is True
    sent = shown(office, dental)
    del sent[tick]
    office.post(page_of(dental), sent)
    assert not ActivityChange.objects.filter(key="inspection").exists()


def test_every_list_tells_what_is_wrong_beside_its_field_and_nothing_is_kept(office, dental):
    days, cushion = (
        field(office, dental, "boards", "duration_workdays"),
        field(office, dental, BASE, "cushion_workdays"),
    )
    before = dental.to_core()
    wrong = {days: "501", cushion: "soon", "closed-0-first": "2027-02-10", "closed-0-last": "2027-02-01"}
    answer = office.post(page_of(dental), shown(office, dental) | wrong)
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "Set working days: 501 must be from 0 to 500." in text
    assert "Cushion days" in text and "soon" in text
    assert answer.context["form"].closed.forms[0].non_field_errors()
    assert Job.objects.get().to_core() == before


def test_without_a_browser_s_script_a_button_shows_what_moves_and_keeps_nothing(office, dental):
    cushion = field(office, dental, BASE, "cushion_workdays")
    answer = office.post(page_of(dental), shown(office, dental) | {cushion: "4", "do": "look"})
    assert answer.status_code == 200 and "Wed 9 Dec" in answer.content.decode()
    assert Job.objects.get().version == dental.version
    more = office.post(page_of(dental), shown(office, dental) | {"closed-0-first": "2027-01-25", "do": "more"})
    assert len(more.context["form"].closed.forms) == 2


def test_of_two_who_saw_the_same_version_the_second_is_told(office, dental):
    sent = shown(office, dental)
    cushion = field(office, dental, BASE, "cushion_workdays")
    assert office.post(page_of(dental), sent | {cushion: "4"}).status_code == 302
    second = office.post(page_of(dental), sent | {cushion: "9"})
    assert second.status_code == 409 and "Nothing was saved" in second.content.decode()
    assert second.context["form"].dates.entries()[0]["cushion_workdays"] == "9", "what was typed is kept"
    assert dental.item_dates.get(material=BASE).cushion_workdays == 4
    # The control: the same post from the version there is now.
    now = sent | {cushion: "9", "seen_version": Job.objects.get().version}
    assert office.post(page_of(dental), now).status_code == 302


def test_an_agreement_for_what_is_no_longer_bought_can_be_taken_away(office, dental):
    stored = dental.item_dates.create(material_id="SCREW-214", cushion_workdays=2)
    ActivityChange.objects.create(job=dental, key="plinth", duration_workdays=1)
    dental.forget_parts()
    text = office.get(page_of(dental)).content.decode()
    assert "The job buys none of it now" in text and "The job has no such activity now" in text
    gone = [
        field(office, dental, "SCREW-214", "cushion_workdays"),
        field(office, dental, "plinth", "duration_workdays"),
    ]
    office.post(page_of(dental), shown(office, dental) | dict.fromkeys(gone, ""))
    assert not dental.item_dates.filter(pk=stored.pk).exists() and not ActivityChange.objects.filter(key="plinth")


def test_the_lead_reads_days_and_changes_nothing(as_, dental):
    lead = as_("lead")
    text = lead.get(page_of(dental)).content.decode()
    assert "Mon 25 Jan 2027" in text and 'id="dates"' not in text
    assert not [entry for row in Supplier.objects.all() for entry in (row.name, row.code) if entry in text]
    assert lead.post(page_of(dental), {}).status_code == 403
    assert lead.post(page_of(dental, "job_dates_preview"), {}).status_code == 403


def test_a_lead_time_gone_is_a_gap_in_what_moves_and_no_fault(office, dental):
    from catalog.models import LeadTerm

    LeadTerm.objects.all().delete()
    sent = shown(office, dental) | {"closed-0-first": "2027-01-11"}
    looked = office.post(page_of(dental, "job_dates_preview"), sent)
    assert looked.status_code == 200 and all(line.order_then is None for line in looked.context["moved_items"])


def test_more_days_ask_the_database_no_more(office, dental):
    few = queries_of(office, page_of(dental))
    for day in range(1, 20):
        JobClosure.objects.create(job=dental, first_day=date(2027, 3, day), last_day=date(2027, 3, day))
        ActivityChange.objects.create(job=dental, key=f"extra-{day}", duration_workdays=day)
    assert queries_of(office, page_of(dental)) == few


@pytest.fixture
def as_shown(office, dental):
    return shown(office, dental)


ENTRIES = st.sampled_from(
    [
        "closed-0-first", "closed-0-last", "closed-0-reason", "closed-7-first", "closed-999-first", "activities-0-key",
        "activities-0-duration_workdays", "activities-3-not_before", "activities-3-left_out", "dates-0-material",
        "dates-0-need_by", "dates-0-cushion_workdays", "dates-2-sign_off_workdays", "dates-١-need_by", "seen_version",
        "do", "dates-199-cushion_workdays", "start_on", "promised_on", "own_activities-0-name",
        "own_activities-0-key", "own_activities-0-kind", "own_activities-0-duration_workdays",
        "own_activities-0-crew_hours", "own_activities-0-before", "own_activities-3-not_before", "links-0-before",
        "links-0-after", "links-0-kind", "links-0-lag_workdays", "links-0-lag_elapsed_hours", "links-0-left_out",
    ]
)  # fmt: skip
TYPED = st.sampled_from([*HOSTILE, "2027-01-25", "0", "250", "1.5", "boards", "coat-1", "hold", "SS"]) | st.text(
    max_size=20
)


@pytest.mark.both_engines
@pytest.mark.parametrize("name", ["job_dates", "job_dates_preview"])
@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(changed=st.dictionaries(ENTRIES, TYPED, max_size=6))
def test_whatever_is_posted_is_answered_with_sentences(office, dental, as_shown, name, changed):
    as_shown["seen_version"] = Job.objects.values_list("version", flat=True).get()
    changed = {entry: value.encode("utf-8", "replace").decode() for entry, value in changed.items()}
    answer = office.post(page_of(dental, name), as_shown | changed)
    assert answer.status_code in (200, 302, 409, 422)
    assert b"<script>alert(1)</script>" not in answer.content


def test_a_start_that_moves_names_what_stays_as_agreed_before_and_after_it_is_saved(office, dental):
    sent = shown(office, dental) | {"start_on": "2027-01-11"}
    looked = office.post(page_of(dental, "job_dates_preview"), sent).content.decode()
    track = Material.objects.get(code="TRACK-358").name
    assert f"{track}: needed on Mon 4 Jan 2027; its activity moves from" in unescape(looked)
    saved = office.post(page_of(dental), sent, follow=True)
    assert any("As agreed stay: " in str(entry) and track in str(entry) for entry in saved.context["messages"])
