from datetime import UTC, date, datetime

import pytest
from django.test import override_settings
from django.urls import reverse
from icalendar import Calendar

from catalog.models import Supplier
from jobs.jobs.models import Job
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.papers.models import Paper
from tests.stored import stored_job, stored_jobs
from tests.support.desk import DAY, HOSTILE, as_, queries_of

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]


@pytest.fixture
def clock_at(frozen_clock):
    frozen_clock.move_to(DAY)
    return frozen_clock


@pytest.fixture
def dental(clock_at, db):
    return stored_job("larkmoor-dental")


def line_of(response, code: str):
    return next(line for line in response.context["lines"] if line.need.material == code)


# Worked example, Larkmoor Dental: base production 3 weeks, transit 3, cushion 3, sign-off 5, the mill shut
# from 21 Dec to 1 Jan.
def test_the_days_of_the_worked_example_stand_on_the_page(as_, dental):
    response = as_("office").get(reverse("job_order_dates", args=[dental.pk]))
    dates = line_of(response, "BASE-514-FLEX").dates
    assert dates.order_by.isoformat() == "2026-12-10"
    assert "Thu 10 Dec" in response.content.decode()


def test_the_list_runs_by_days_in_hand_with_undated_items_last(as_, clock_at, db):
    stored_jobs()
    lines = as_("office").get(reverse("order_dates")).context["lines"]
    hands = [line.need.in_hand for line in lines]
    dated = [hand for hand in hands if hand is not None]
    assert dated == sorted(dated) and hands[: len(dated)] == dated and len({line.job.pk for line in lines}) == 4


# Days in hand: firm working days from today to order-by, 10 Dec 2026 for the base.
@pytest.mark.parametrize(
    ("day", "standing", "words"),
    [(9, "ahead", "<b>1</b>"), (10, "due_today", "<b>0</b><small>today"), (11, "late", "<b>1</b><small>late")],
)
def test_late_due_today_and_ahead_are_told_in_different_words(as_, dental, clock_at, day, standing, words):
    clock_at.move_to(datetime(2026, 12, day, 15, 0, tzinfo=UTC))
    response = as_("office").get(reverse("job_order_dates", args=[dental.pk]))
    line = line_of(response, "BASE-514-FLEX")
    assert line.standing == standing
    assert words in response.content.decode()


def test_the_day_is_the_firm_s_and_not_the_server_s(as_, dental, clock_at):
    # 03:00 UTC on the 10th is still the evening of the 9th in the firm's America/New_York.
    clock_at.move_to(datetime(2026, 12, 10, 3, 0, tzinfo=UTC))
    response = as_("office").get(reverse("job_order_dates", args=[dental.pk]))
    assert response.context["today"] == date(2026, 12, 9)
    # Ordered by 10 Dec, so not due today yet.
    assert line_of(response, "TRACK-358").standing == "ahead"


def test_the_list_is_narrowed_by_week_supplier_job_and_supply(as_, clock_at, db):
    stored_jobs()
    office = as_("office")
    page = reverse("order_dates")
    week = office.get(page, {"week": "2026-12-07"}).context["lines"]
    assert week and all("2026-12-07" <= line.dates.order_by.isoformat() <= "2026-12-13" for line in week)
    assert {line.need.supplier for line in office.get(page, {"supplier": "HENNOCK"}).context["lines"]} == {"HENNOCK"}
    key = Job.objects.get(title="Reception screen").key
    assert {line.job.key for line in office.get(page, {"job": key}).context["lines"]} == {key}
    assert all(line.is_long_lead for line in office.get(page, {"only": "long"}).context["lines"])


def test_a_closed_job_is_not_in_the_list(as_, dental):
    Job.objects.filter(pk=dental.pk).update(closed_on="2026-11-20")
    assert as_("office").get(reverse("order_dates")).context["lines"] == []


def test_an_item_without_a_lead_time_has_no_dates_and_a_named_gap(as_, dental):
    from catalog.models import LeadTerm

    LeadTerm.objects.filter(material__code="BASE-514-FLEX").delete()
    response = as_("office").get(reverse("job_order_dates", args=[dental.pk]))
    assert line_of(response, "BASE-514-FLEX").dates is None
    assert "no lead time" in response.content.decode()


def test_the_lead_sees_days_and_neither_suppliers_nor_papers(as_, dental, clock_at):
    lead = as_("lead")
    names = [word for row in Supplier.objects.all() for word in (row.name, row.code)]
    for url in (reverse("order_dates"), reverse("job_order_dates", args=[dental.pk])):
        shown = lead.get(url).content.decode()
        assert "Mon 25 Jan 2027" in shown
        assert not [name for name in names if name in shown]
    # The control: the office sees them on the same page.
    assert "Hennock Trim Mill" in as_("office").get(reverse("order_dates")).content.decode()
    assert lead.post(reverse("order_dates_paper", args=[dental.pk])).status_code == 403


def test_the_calendar_file_opens_and_holds_the_days(as_, dental):
    response = as_("lead").get(reverse("order_dates_calendar", args=[dental.pk]))
    events = Calendar.from_ical(response.content).walk("VEVENT")
    days = {str(event["summary"]): event.decoded("dtstart").isoformat() for event in events}
    base = next(day for name, day in days.items() if name.startswith("Order: Base, bendable polymer, 5-1/4"))
    assert base == "2026-12-10"


def test_the_paper_is_asked_for_once_made_and_handed_out(as_, dental, tmp_path):
    office, ask = as_("office"), reverse("order_dates_paper", args=[dental.pk])
    with override_settings(MEDIA_ROOT=tmp_path):
        office.post(ask)
        office.post(ask)
        errand = Errand.objects.get()
        progress = reverse("paper_progress", args=[errand.pk])
        assert "every 1500ms" in office.get(progress).content.decode()
        run_errand(errand.pk, "test")
        paper = Paper.objects.get()
        shown = office.get(progress).content.decode()
        assert "every 1500ms" not in shown and reverse("paper", args=[paper.pk]) in shown
        response = office.get(reverse("paper", args=[paper.pk]))
        assert response.content.startswith(b"%PDF") and "attachment" in response["Content-Disposition"]
        (tmp_path / "papers" / paper.file_name).write_bytes(b"%PDF something else")
        assert office.get(reverse("paper", args=[paper.pk])).status_code == 410


def test_a_failed_paper_says_why_and_can_be_tried_again(as_, dental):
    office = as_("office")
    office.post(reverse("order_dates_paper", args=[dental.pk]))
    errand = Errand.objects.get()
    Errand.objects.update(state="failed", error="No room on the sheet.", finished_at=DAY)
    shown = office.get(reverse("paper_progress", args=[errand.pk])).content.decode()
    assert "No room on the sheet." in shown and "Try again" in shown
    back = office.post(reverse("paper_retry", args=[errand.pk]))
    assert back["Location"] == reverse("job_order_dates", args=[dental.pk])
    errand.refresh_from_db()
    assert errand.state == "waiting"


def test_errands_of_other_kinds_are_not_shown(as_, dental):
    errand = Errand.objects.create(kind="other", key="x", due_at=DAY, created_at=DAY)
    assert as_("office").get(reverse("paper_progress", args=[errand.pk])).status_code == 404


def test_with_no_job_at_all_the_page_says_so(as_, clock_at):
    assert "Nothing has to be ordered" in as_("office").get(reverse("order_dates")).content.decode()


@pytest.mark.parametrize("typed", HOSTILE)
def test_whatever_stands_in_the_address_is_answered(as_, dental, typed):
    wanted = dict.fromkeys(("week", "supplier", "job", "only"), typed)
    assert as_("office").get(reverse("order_dates"), wanted).status_code == 200


def test_more_jobs_ask_the_database_no_more(as_, clock_at, db):
    office = as_("office")
    stored_job("larkmoor-dental")
    few = queries_of(office, reverse("order_dates"))
    stored_jobs_more = [stored_job(name) for name in ("merrow-finch-boutique", "brightwell-childcare")]
    assert len(stored_jobs_more) == 2
    assert queries_of(office, reverse("order_dates")) == few


def test_items_lead_to_a_draft_only_where_all_of_them_stand_on_it(as_, dental):
    office, page = as_("office"), reverse("job_order_dates", args=[dental.pk])
    office.post(reverse("order_from", args=["TOLLARD"]), {"request_key": "k", "item": f"{dental.pk}/TRACK-358"})
    rows = [row for block in office.get(page).context["list"].blocks for row in block.rows]
    stocked = next(row for row in rows if len(row.lines) > 1)
    assert stocked.action.label == "Order"
    track = office.get(page, {"work": "unsigned"}).context["list"].blocks
    assert len(stocked.lines) == sum(len(row.lines) for block in track for row in block.rows if not row.custom)
