"""The Hours screen and the pages beside it, as each role opens them. Today is Mon 5 Oct 2026."""

from datetime import date

import pytest
from django.urls import reverse

from jobs.hours.models import HoursLeft, TimeEntry
from tests.factories.hours import worker
from tests.support.desk import HOSTILE_ON_ENGINES, as_, queries_of
from tests.support.hours import TODAY, crew, entry_of, rate
from tests.support.months import close

__all__ = ["as_"]
CANARY = "47.13"
HOURS = "/hours/"
FRIDAY = date(2026, 10, 2)


def typed(job, *who, hours="8", step="framing", day=TODAY, **more):
    first = {"line-0-where": f"{job.pk}|{step}", "line-0-hours": hours, "line-0-who": [entry.pk for entry in who]}
    return {"request_key": "k-12345678", "day": str(day), **first, **more}


def messages_of(response):
    return [str(entry) for entry in response.context["messages"]]


def faults_of(response):
    form = response.context["form"]
    return form.told + [
        message
        for entry in (form.head, *form.lines, *form.left)
        for those in entry.errors.values()
        for message in those
    ]


@pytest.fixture
def sam(job):
    return crew("Sam Orrin")[0]


def test_the_page_is_filled_in_as_the_day_before_and_saved_as_it_stands(as_, job, sam):
    lead, ines = as_("lead"), worker("Ines Quarrell")
    lead.post(HOURS, typed(job, sam, ines, hours="7:30", day=FRIDAY))
    page = lead.get(HOURS)
    first = page.context["form"].lines[0]
    assert (first["where"].value(), first["hours"].value()) == (f"{job.pk}|framing", "7.5")
    assert "Filled in as Fri 2 Oct." in page.content.decode()
    sent = typed(job, sam, ines, hours=first["hours"].value(), request_key="k-87654321")
    assert messages_of(lead.post(HOURS, sent, follow=True)) == [
        "Saved: 15 h of Ines Quarrell and Sam Orrin, Mon 5 Oct."
    ]
    assert list(TimeEntry.objects.filter(day=TODAY).values_list("minutes", flat=True)) == [450, 450]


def test_the_second_work_of_the_day_before_stands_in_one_line(as_, job, sam):
    lead = as_("lead")
    second = {"line-1-where": "-", "line-1-hours": "1:30", "line-1-elsewhere": "Workshop", "line-1-who": [sam.pk]}
    lead.post(HOURS, typed(job, sam, hours="6", day=FRIDAY, **second))
    first, other, free = lead.get(HOURS).context["form"].lines
    assert (first.is_open, other.is_open, free.is_open) == (True, False, False)
    assert (other.in_short, free.in_short) == ("1.5 h, Workshop: Sam Orrin", "")


def test_what_is_in_already_is_not_filled_in_again(as_, job, sam):
    lead = as_("lead")
    lead.post(HOURS, typed(job, sam, day=FRIDAY))
    lead.post(HOURS, typed(job, sam, request_key="k-87654321"))
    page = lead.get(HOURS)
    assert not page.context["form"].lines[0]["who"].value()
    assert "Mon 5 Oct: Sam Orrin 8 h." in page.content.decode()


def test_hours_sent_twice_are_saved_once(as_, job, sam):
    lead = as_("lead")
    for text in ("Saved: 8 h of Sam Orrin, Mon 5 Oct.", "These hours are saved already."):
        assert messages_of(lead.post(HOURS, typed(job, sam), follow=True)) == [text]
    answer = lead.post(HOURS, typed(job, sam, hours="3"))
    assert (answer.status_code, TimeEntry.objects.count()) == (409, 1)
    # The form has a key of its own again, so that what is typed can be sent.
    assert answer.context["form"].key != "k-12345678"


def test_the_browser_that_kept_the_form_is_told_where_to_go(as_, job, sam):
    answer = as_("lead").post(HOURS, typed(job, sam), headers={"X-Kept-Form": "1"})
    assert (answer.status_code, answer["X-Go-To"]) == (204, HOURS)


def test_a_long_day_is_asked_about_and_saved_by_one_more_tap(as_, job, sam):
    lead = as_("lead")
    wanted = lead.post(HOURS, typed(job, sam, hours="13"))
    assert (wanted.status_code, TimeEntry.objects.exists()) == (409, False)
    assert "Sam Orrin has 13 h on Mon 5 Oct with this. Is that right?" in wanted.content.decode()
    lead.post(HOURS, typed(job, sam, hours="13", is_long_day="yes"))
    assert TimeEntry.objects.get().minutes == 780


@pytest.mark.parametrize(
    ("entries", "message"),
    [
        ({"line-0-hours": "0"}, "“0” must be over 0 and at most 24 hours."),
        ({"line-0-hours": "25"}, "must be over 0 and at most 24 hours."),
        ({"line-0-hours": ""}, "Say how long each of them worked."),
        ({"line-0-where": ""}, "Choose the job and step, or that it is on no job."),
        ({"line-0-where": "-"}, "On no job is missing: say what was done, or name the job."),
        ({"line-0-who": []}, "Tick who worked."),
        ({"day": "2026-10-06"}, "Day: Tue 6 Oct 2026 has not come yet"),
        ({"day": "2026-01-04"}, "is before Sam Orrin began"),
    ],
)
def test_what_cannot_be_says_so_at_its_field_and_keeps_what_is_typed(as_, job, sam, entries, message):
    answer = as_("lead").post(HOURS, typed(job, sam, **entries))
    assert (answer.status_code, TimeEntry.objects.exists()) == (422, False)
    text = faults_of(answer)
    assert any(message.replace("“", '"').replace("”", '"') in entry for entry in text), text


@pytest.mark.parametrize("text", HOSTILE_ON_ENGINES)
def test_nothing_typed_breaks_the_page(as_, job, sam, text):
    fields = ("line-0-hours", "line-0-where", "line-0-note", "line-0-tag", "line-0-elsewhere", "request_key")
    tried = [dict.fromkeys(fields, text), {"day": text, "line-0-who": text}]
    lead = as_("lead")
    answers = [lead.post(HOURS, typed(job, sam, **entry)) for entry in tried]
    assert {answer.status_code for answer in answers} <= {302, 409, 422}


def test_hours_sent_late_say_in_which_month_they_count(as_, job, sam):
    entry_of(job, sam, 60, date(2026, 9, 1))
    close("2026-09")
    text = messages_of(as_("lead").post(HOURS, typed(job, sam, day=date(2026, 9, 28)), follow=True))
    assert text[1] == "September 2026 is closed: 8 h of Sam Orrin, Mon 28 Sep count in October 2026."


def test_on_fridays_the_lead_is_asked_what_is_left(as_, job, sam, frozen_clock):
    lead = as_("lead")
    entry_of(job, sam, 480, date(2026, 10, 1))
    lead.post(HOURS, typed(job, sam, day=date(2026, 9, 30)))
    page = lead.get(f"{HOURS}?day={FRIDAY}")
    assert [entry.about.step.hours.step for entry in page.context["form"].left] == ["framing"]
    assert not lead.get(HOURS).context["form"].left
    left = {f"left-{job.pk}-framing-hours": "33", "request_key": "k-87654321"}
    assert messages_of(lead.post(HOURS, typed(job, sam, day=FRIDAY, **left), follow=True))[0].startswith("Saved: 8 h")
    assert (HoursLeft.objects.get().minutes, HoursLeft.objects.get().said_by_name) == (1980, "the-lead")


def test_wrong_hours_left_save_nothing(as_, job, sam):
    lead = as_("lead")
    entry_of(job, sam, 480, date(2026, 10, 1))
    answer = lead.post(HOURS, typed(job, sam, day=FRIDAY, **{f"left-{job.pk}-framing-hours": "soon"}))
    assert (answer.status_code, TimeEntry.objects.count(), HoursLeft.objects.exists()) == (422, 1, False)


@pytest.mark.parametrize(
    ("hours", "share", "status"), [("20", "40 %", 302), ("20", "", 302), ("", "40", 422), ("20", "100", 422)]
)
def test_the_share_done_is_said_with_the_hours_left(as_, job, sam, hours, share, status):
    lead, name = as_("lead"), f"left-{job.pk}-framing"
    entry_of(job, sam, 480, date(2026, 10, 1))
    document = {f"{name}-hours": hours, f"{name}-percent_done": share}
    assert lead.post(HOURS, typed(job, sam, day=FRIDAY, **document)).status_code == status
    pairs = [(20 * 60, 40 if share else None)] if status == 302 else []
    assert list(HoursLeft.objects.values_list("minutes", "percent_done")) == pairs


def test_today_of_the_lead_lists_days_without_hours(as_, job, sam):
    lead = as_("lead")
    lead.post(HOURS, typed(job, sam, day=date(2026, 10, 1)))
    page = lead.get(reverse("today")).content.decode()
    assert f'Hours missing: <a href="/hours/?day={FRIDAY}">Fri 2 Oct</a> Sam.' in page
    lead.post(HOURS, typed(job, sam, day=FRIDAY, request_key="k-87654321"))
    assert "Hours missing" not in lead.get(reverse("today")).content.decode()


def test_an_entry_is_corrected_on_its_page(as_, job, sam):
    lead, row = as_("lead"), entry_of(job, sam)
    address = reverse("time_entry", args=[row.pk])
    seen = lead.get(address).context["head"]["seen_version"].value()
    sent = typed(job, sam, hours="6", reason="Left at two", seen_version=seen)
    assert messages_of(lead.post(address, sent, follow=True)) == ["Corrected."]
    assert [(entry.minutes, entry.voided_by_name) for entry in TimeEntry.objects.order_by("pk")] == [
        (480, "the-lead"),
        (360, ""),
    ]
    assert "What is in its place" in lead.get(address).content.decode()


def test_a_correction_without_a_reason_is_refused_and_one_taken_back_counts_for_nothing(as_, job, sam):
    lead, row = as_("lead"), entry_of(job, sam)
    address = reverse("time_entry", args=[row.pk])
    seen = lead.get(address).context["head"]["seen_version"].value()
    assert lead.post(address, typed(job, sam, seen_version=seen)).status_code == 422
    sent = typed(job, sam, reason="Never worked", seen_version=seen, do="take-back")
    assert messages_of(lead.post(address, sent, follow=True))[0].startswith("Voided.")
    assert TimeEntry.objects.filter(voided_at=None).count() == 0


def test_a_sum_of_the_job_opens_to_its_rows(as_, job, sam):
    entry_of(job, sam, 450)
    entry_of(job, sam, 30, step="boards", tag="rework")
    address = reverse("job_hours", args=[job.pk])
    page = as_("lead").get(address).content.decode()
    assert ("8 h spent of" in page, "7.5 h</a>" in page, "Rework" in page) == (True, True, True)
    boards = as_("office").get(f"{address}?step=boards").context
    assert [board.entry.minutes for board in boards["rows"]] == [30]


def test_the_job_page_reads_as_few_rows_however_many_hours(as_, job, sam):
    estimator, address = as_("estimator"), reverse("job_hours", args=[job.pk])
    entry_of(job, sam, 60, date(2026, 9, 1))
    before = queries_of(estimator, address)
    for day in range(2, 12):
        entry_of(job, sam, 60, date(2026, 9, day))
    assert queries_of(estimator, address) == before


def test_the_lead_and_the_estimator_say_what_is_left(as_, job, sam):
    address = reverse("hours_left_said", args=[job.pk])
    lead = as_("lead")
    text = messages_of(lead.post(address, {"step": "boards", "hours": "120.5"}, follow=True))
    assert text == ["120.5 h left."]
    lead.post(address, {"step": "boards", "hours": "120", "percent_done": "30"})
    assert HoursLeft.objects.latest("pk").percent_done == 30
    message = messages_of(lead.post(address, {"step": "boards", "hours": "1", "percent_done": "x"}, follow=True))
    assert "1 to 99 %" in message[-1]
    assert messages_of(as_("estimator").post(address, {"step": "boards", "hours": "0"}, follow=True)) == ["Done."]
    assert as_("office").post(address, {"step": "boards", "hours": "1"}).status_code == 403


def test_the_owner_keeps_the_workers_and_freezes_late_rates(as_, job, sam):
    owner = as_("owner")
    new = {"name": "Ines Quarrell", "rate_name": "Carpenter", "first_day": "2026-01-05", "request_key": "w-12345678"}
    assert messages_of(owner.post("/firm/workers/", new, follow=True)) == ["Entered: Ines Quarrell."]
    row = entry_of(job, sam)
    rate("49.50", TODAY.isoformat())
    page = owner.get("/firm/workers/")
    sent = {"entry": row.pk, "seen": page.context["late_mark"]}
    owner.post("/firm/workers/late-rates/", sent)
    row.refresh_from_db()
    assert str(row.rate) == "49.50"
    rounding = {"rounding": "15", "seen_version": page.context["rounding"]["seen_version"].value()}
    text = messages_of(owner.post("/firm/workers/rounding/", rounding, follow=True))
    assert text[-1] == "Minutes count: to 15 minutes."


def test_no_rate_and_no_cost_stand_on_pages_of_the_lead_or_the_office(as_, job):
    rate(CANARY)
    sam = worker("Sam Orrin")
    row = entry_of(job, sam, 60)
    addresses = [
        HOURS,
        reverse("job_hours", args=[job.pk]),
        reverse("time_entry", args=[row.pk]),
        reverse("hours_of_day", args=[sam.pk, TODAY.isoformat()]),
        reverse("today"),
    ]
    for role in ("lead", "office"):
        client = as_(role)
        assert not [address for address in addresses if CANARY in client.get(address).content.decode()], role
        assert client.get("/firm/workers/").status_code == 403
    # The control: whoever prices sees it.
    assert CANARY in as_("owner").get(addresses[1]).content.decode()
    assert CANARY in as_("estimator").get(addresses[2]).content.decode()


def test_whoever_enters_for_nobody_is_told_who_keeps_the_list(as_, job, sam):
    page = as_("estimator").get(HOURS)
    assert "The owner keeps the list of workers." in page.content.decode()
    assert 'form="hours-form"' not in page.content.decode()
    sam.delete()
    assert 'href="/firm/workers/"' in as_("owner").get(HOURS).content.decode()


def test_the_page_reads_as_few_rows_however_many_hours(as_, job, sam):
    lead = as_("lead")
    entry_of(job, sam, 60, date(2026, 9, 24))
    before = queries_of(lead, HOURS)
    for day in range(25, 31):
        entry_of(job, sam, 60, date(2026, 9, day))
    assert queries_of(lead, HOURS) == before
