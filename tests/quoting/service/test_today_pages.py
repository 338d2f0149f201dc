from datetime import UTC, date, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from catalog.models import Price, Supplier
from jobs.jobs.services.open_jobs import close_job
from jobs.schedule.services.actual_days import begin_activity, end_activity
from quoting.job_files.services.job_files import import_job_file
from quoting.life.services.keeping import keep_lives
from quoting.platform.people.signatures import Signature
from quoting.pricing.models import ChecklistAnswer
from quoting.quotes.models import AnswerKind
from quoting.quotes.services.acceptance import answer_revision
from quoting.quotes.services.given_answers import Given
from quoting.quotes.services.quotes import issue_quote
from tests.documents import document, starter
from tests.stored import STORED_AT, stored_book, stored_job
from tests.support.answered import secret_to, with_paper

pytestmark = pytest.mark.both_engines


@pytest.fixture
def desk(client, make_person):
    client.force_login(make_person("estimator"))
    return client


def page_on(client, frozen_clock, day):
    frozen_clock.move_to(datetime(day.year, day.month, day.day, 9, tzinfo=UTC))
    return client.get(reverse("today")).content.decode()


def listed(client, frozen_clock, day):
    """What is next: days in hand, what, why."""
    frozen_clock.move_to(datetime(day.year, day.month, day.day, 9, tzinfo=UTC))
    context = client.get(reverse("today")).context
    return [(row.todo.in_hand, row.todo.text, row.why) for row in (*context["near"], *context["soon"])]


@pytest.fixture
def office(client, make_person):
    client.force_login(make_person("office"))
    return client


def test_a_new_firm_is_led_from_the_firm_to_the_first_wall(desk, frozen_clock):
    page = page_on(desk, frozen_clock, date(2026, 10, 5))
    steps = ["Enter the firm", "Fill the catalog", "Open a job", "Measure the first wall", "Issue the quote"]
    places = [page.index(step) for step in steps]
    assert places == sorted(places)


def test_what_is_entered_already_is_said_to_be_done(desk, frozen_clock):
    stored_job("larkmoor-dental").delete()
    page = page_on(desk, frozen_clock, date(2026, 10, 5))
    assert "Enter the firm: done." in page
    assert "Fill the catalog: done." in page


def test_the_first_job_is_led_on_to_its_first_quote_and_no_further(desk, make_person, frozen_clock):
    stored_book(starter(), "starter")
    job = import_job_file(document("jobs/larkmoor-dental.json"), now=STORED_AT)
    day = date(2026, 11, 25)
    page = page_on(desk, frozen_clock, day)
    assert "Price the job: done." in page and "Check the usual extras: done." in page
    assert f'<a href="{reverse("quote_issue", args=[job.pk])}">Issue the quote</a>' in page
    ChecklistAnswer.objects.filter(pricing__job=job).update(answer="")
    assert "Check the usual extras</a>" in page_on(desk, frozen_clock, day)
    ChecklistAnswer.objects.filter(pricing__job=job).update(answer="included", where="All")
    issue_quote(job, request_key="once", seen_mark=None, by=make_person("owner"), now=STORED_AT, today=day)
    assert "To the first quote" not in page_on(desk, frozen_clock, day)


def test_the_base_of_the_dental_screen_is_asked_for_by_its_order_by_day(office, frozen_clock):
    """Worked examples, part B: decide-by Thu 3 Dec, order-by Thu 10 Dec; ordered on the 16th 4 days late."""
    stored_job("larkmoor-dental")
    pairs = {text: (in_hand, why) for in_hand, text, why in listed(office, frozen_clock, date(2026, 12, 3))}
    assert pairs["Have the base signed off"][0] == 0
    assert pairs["Order base from Hennock Trim Mill"][0] == 5
    late = {text: (in_hand, why) for in_hand, text, why in listed(office, frozen_clock, date(2026, 12, 16))}
    in_hand, why = late["Order base from Hennock Trim Mill"]
    assert in_hand == -4 and "ordered today it is usable Fri 29 Jan 2027, 4 working days late" in why


# The mill of the worked example takes orders until 15:00; the firm of fixtures/ is in America/New_York, UTC-5 in
# December (IANA Time Zone Database). The order-by day of the base is Thu 10 Dec 2026.
@pytest.mark.parametrize(
    ("hour_utc", "minute", "in_hand", "words"), [(19, 59, 0, "due today"), (20, 1, -1, "1 working day late")]
)
def test_past_the_suppliers_hour_of_the_order_by_day_it_is_late(office, frozen_clock, hour_utc, minute, in_hand, words):
    job = stored_job("larkmoor-dental")
    frozen_clock.move_to(datetime(2026, 12, 10, hour_utc, minute, tzinfo=UTC))
    result = [row.todo for row in office.get(reverse("today")).context["near"]]
    assert [entry.in_hand for entry in result if entry.text == "Order base from Hennock Trim Mill"] == [in_hand]
    for url in (reverse("order_dates"), reverse("job_order_dates", args=[job.pk])):
        line = next(entry for entry in office.get(url).context["lines"] if entry.need.material == "BASE-514-FLEX")
        assert line.hand == words


def test_a_calendar_is_read_on_other_days_and_knows_no_hour(desk, frozen_clock):
    job = stored_job("larkmoor-dental")

    def taken(hour_utc):
        frozen_clock.move_to(datetime(2026, 12, 10, hour_utc, tzinfo=UTC))
        lines = desk.get(reverse("order_dates_calendar", args=[job.pk])).content.splitlines()
        # When it was handed out is told, and no more than that.
        return [line for line in lines if not line.startswith((b"DTSTAMP", b"LAST-MODIFIED"))]

    assert taken(19) == taken(21)


def test_what_has_the_least_days_in_hand_comes_first(office, frozen_clock):
    stored_job("larkmoor-dental")
    days = [in_hand for in_hand, _, _ in listed(office, frozen_clock, date(2026, 12, 9)) if in_hand is not None]
    assert days == sorted(days) and days[0] < 0


def test_a_closed_job_asks_for_nothing(office, frozen_clock):
    job = stored_job("larkmoor-dental")
    assert listed(office, frozen_clock, date(2026, 12, 9))
    close_job(job, date(2026, 12, 9))
    assert not listed(office, frozen_clock, date(2026, 12, 9))


def test_a_job_without_a_start_is_named(desk, frozen_clock):
    job = stored_job("larkmoor-dental")
    type(job).objects.update(start_on=None)
    assert "first day on site is not agreed" in page_on(desk, frozen_clock, date(2026, 10, 5))


def test_the_lead_sees_no_supplier_price_or_quote(client, make_person, frozen_clock):
    stored_job("larkmoor-dental")
    Price.objects.all().delete()
    client.force_login(make_person("lead"))
    page = page_on(client, frozen_clock, date(2026, 12, 9))
    assert "Measure for the office" in page
    assert "price" not in page.lower() and "quotation" not in page.lower()
    for supplier in Supplier.objects.all():
        assert supplier.name not in page


@pytest.fixture
def dental_quote(make_person):
    """Open for acceptance for 30 days from 25 November 2026: to 25 December."""
    stored_book(starter(), "starter")
    job = import_job_file(document("jobs/larkmoor-dental.json"), now=STORED_AT)
    by = make_person("owner")
    return issue_quote(job, request_key="once", seen_mark=None, by=by, now=STORED_AT, today=date(2026, 11, 25))


def test_a_client_who_has_a_quotation_is_waited_for_and_reminded_in_time(desk, dental_quote, frozen_clock, make_person):
    secret_to(dental_quote, by_hand=True)
    keep_lives([dental_quote.quote.job_id])
    # The base must be decided by Thu 3 Dec 2026: 18 working days after Mon 9 Nov, which the holiday of 26 Nov is not.
    result = [text for _, text, _ in listed(desk, frozen_clock, date(2026, 11, 9))]
    waiting = [entry.says for entry, _, _ in desk.get(reverse("today")).context["waiting"]]
    assert "Larkmoor Dental signs" not in result and any("has the quotation since" in entry for entry in waiting)
    page = page_on(desk, frozen_clock, date(2026, 12, 2))
    assert "Larkmoor Dental signs" in page and "Send a reminder" in page
    desk.force_login(make_person("lead"))
    assert "Larkmoor Dental signs" not in page_on(desk, frozen_clock, date(2026, 12, 2))


def test_an_acceptance_stands_first_and_large_until_the_next_visit(desk, dental_quote, frozen_clock):
    listed(desk, frozen_clock, date(2026, 11, 25))
    frozen_clock.move_to(datetime(2026, 11, 25, 14, tzinfo=UTC))
    answer = accept_at(dental_quote, datetime(2026, 11, 25, 14, tzinfo=UTC))
    page = desk.get(reverse("today")).content.decode()
    assert page.index('<p class="answer">') < page.index('<p class="lead">')
    assert f"<b>Ada Client</b> accepted {dental_quote.quote.job.title}" in page and f"{answer.total:,}" in page
    frozen_clock.move_to(datetime(2026, 11, 26, 9, tzinfo=UTC))
    assert '<p class="answer">' not in desk.get(reverse("today")).content.decode()


def accept_at(revision, now):
    return answer_revision(with_paper(revision), Given(AnswerKind.ACCEPTED, "Ada Client"), now=now, today=now.date())


def test_an_open_page_is_shown_anew_only_where_something_changed(desk, dental_quote, frozen_clock):
    listed(desk, frozen_clock, date(2026, 11, 25))
    seen = {"seen": desk.get(reverse("today")).context["mark"]}
    assert desk.get(reverse("today_changes"), seen).status_code == 204
    accept_at(dental_quote, datetime(2026, 11, 25, 14, tzinfo=UTC))
    anew = desk.get(reverse("today_changes"), seen)
    assert anew.status_code == 200 and '<p class="answer">' in anew.content.decode()


def test_the_lead_is_not_shown_what_changes_at_the_desk(client, make_person, dental_quote):
    client.force_login(make_person("lead"))
    assert client.get(reverse("today_changes")).status_code == 403


def test_a_desk_with_nothing_due_reads_until_when(office, frozen_clock):
    # The first day something is to be decided is Thu 3 Dec 2026; the first to be ordered is Thu 10 Dec.
    stored_job("larkmoor-dental")
    page = page_on(office, frozen_clock, date(2026, 10, 6))
    assert "Nothing is due until Thu 10 Dec." in page


def test_the_page_asks_no_more_of_the_database_for_more_jobs(office, frozen_clock):
    def asked():
        page_on(office, frozen_clock, date(2026, 12, 9))  # who looks first works up what has changed
        with CaptureQueriesContext(connection) as queries:
            page_on(office, frozen_clock, date(2026, 12, 9))
        return len(queries)

    stored_job("larkmoor-dental")
    stored_job("merrow-finch-boutique")
    few = asked()
    stored_job("ashgrove-library")
    stored_job("brightwell-childcare")
    assert asked() <= few


def test_what_the_lead_began_and_ended_is_news_that_leads_to_the_days_of_its_job(office, frozen_clock):
    job = stored_job("larkmoor-dental")
    frozen_clock.move_to(datetime(2027, 1, 4, 15, tzinfo=UTC))
    by = Signature("Teodor", date(2027, 1, 4))
    begin_activity(job, "layout", by)
    assert "Teodor began" in page_on(office, frozen_clock, date(2027, 1, 4))
    end_activity(job, "layout", by)
    shown = page_on(office, frozen_clock, date(2027, 1, 4))
    assert "Teodor ended" in shown and reverse("job_dates", args=[job.pk]) in shown
