from datetime import UTC, date, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from catalog.models import Price, Supplier
from jobs.jobs.services.open_jobs import close_job
from quoting.job_files.services.job_files import import_job_file
from quoting.pricing.models import ChecklistAnswer
from quoting.quotes.services.quotes import issue_quote
from tests.documents import document, starter
from tests.stored import STORED_AT, stored_book, stored_job

pytestmark = pytest.mark.both_engines


@pytest.fixture
def desk(client, make_person):
    client.force_login(make_person("estimator"))
    return client


def page_on(client, frozen_clock, day):
    frozen_clock.move_to(datetime(day.year, day.month, day.day, 9, tzinfo=UTC))
    return client.get(reverse("today")).content.decode()


def rows(page):
    return [row.split("</tr>")[0] for row in page.split("<tbody>")[1].split("<tr")[1:]] if "<tbody>" in page else []


def test_a_new_firm_is_led_from_the_firm_to_the_first_wall(desk, frozen_clock):
    page = page_on(desk, frozen_clock, date(2026, 10, 5))
    steps = ["Enter the firm", "Fill the catalog", "Open a job", "Take its first wall", "Issue the quote"]
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
    assert "Price the job: done." in page and "Answer what gets forgotten: done." in page
    assert f'<a href="{reverse("quote_issue", args=[job.pk])}">Issue the quote</a>' in page
    ChecklistAnswer.objects.filter(pricing__job=job).update(answer="")
    assert "Answer what gets forgotten</a>" in page_on(desk, frozen_clock, day)
    ChecklistAnswer.objects.filter(pricing__job=job).update(answer="included", where="All")
    issue_quote(job, request_key="once", seen_mark=None, by=make_person("owner"), now=STORED_AT, today=day)
    assert "To the first quote" not in page_on(desk, frozen_clock, day)


def test_the_base_of_the_dental_screen_is_asked_for_by_its_order_by_day(desk, frozen_clock):
    """Worked examples, part B: decide-by Thu 3 Dec, order-by Thu 10 Dec; ordered on the 16th 4 days late."""
    stored_job("larkmoor-dental")
    page = page_on(desk, frozen_clock, date(2026, 12, 3))
    base = [row for row in rows(page) if "Base, bendable" in row]
    assert any("Thu 3 Dec" in row and "due today" in row for row in base)
    assert any("Thu 10 Dec" in row and "5 working days in hand" in row for row in base)
    late = [row for row in rows(page_on(desk, frozen_clock, date(2026, 12, 16))) if "Order Base, bendable" in row]
    assert "4 working days late" in late[0]
    assert "ordered today it is usable Fri 29 Jan 2027, 4 working days late" in late[0]


# The mill of the worked example takes orders until 15:00; the firm of fixtures/ is in America/New_York, UTC-5 in
# December (IANA Time Zone Database). The order-by day of the base is Thu 10 Dec 2026.
@pytest.mark.parametrize(("hour_utc", "minute", "words"), [(19, 59, "due today"), (20, 1, "1 working day late")])
def test_past_the_suppliers_hour_of_the_order_by_day_it_is_late(desk, frozen_clock, hour_utc, minute, words):
    job = stored_job("larkmoor-dental")
    frozen_clock.move_to(datetime(2026, 12, 10, hour_utc, minute, tzinfo=UTC))
    base = [row for row in rows(desk.get(reverse("today")).content.decode()) if "Order Base, bendable" in row]
    assert words in base[0]
    for url in (reverse("order_dates"), reverse("job_order_dates", args=[job.pk])):
        line = next(one for one in desk.get(url).context["lines"] if one.need.material == "BASE-514-FLEX")
        assert line.hand == words


def test_a_calendar_is_read_on_other_days_and_knows_no_hour(desk, frozen_clock):
    job = stored_job("larkmoor-dental")

    def taken(hour_utc):
        frozen_clock.move_to(datetime(2026, 12, 10, hour_utc, tzinfo=UTC))
        lines = desk.get(reverse("order_dates_calendar", args=[job.pk])).content.splitlines()
        # When it was handed out is told, and no more than that.
        return [line for line in lines if not line.startswith((b"DTSTAMP", b"LAST-MODIFIED"))]

    assert taken(19) == taken(21)


def test_what_has_the_least_days_in_hand_comes_first(desk, frozen_clock):
    stored_job("larkmoor-dental")
    days = [row.split("days-in-hand")[1] for row in rows(page_on(desk, frozen_clock, date(2026, 12, 9)))]
    late = ["late" in day.split("</td>")[0] for day in days]
    assert late == sorted(late, reverse=True)


def test_a_closed_job_asks_for_nothing(desk, frozen_clock):
    job = stored_job("larkmoor-dental")
    assert rows(page_on(desk, frozen_clock, date(2026, 12, 9)))
    close_job(job, date(2026, 12, 9))
    assert not rows(page_on(desk, frozen_clock, date(2026, 12, 9)))


def test_a_job_without_a_start_is_named(desk, frozen_clock):
    job = stored_job("larkmoor-dental")
    type(job).objects.update(start_on=None)
    assert "first day on site is not agreed" in page_on(desk, frozen_clock, date(2026, 10, 5))


def test_the_lead_sees_days_and_items_but_no_supplier_price_or_quote(client, make_person, frozen_clock):
    stored_job("larkmoor-dental")
    Price.objects.all().delete()
    client.force_login(make_person("lead"))
    page = page_on(client, frozen_clock, date(2026, 12, 9))
    assert "must be on site by" in page
    assert "price" not in page.lower()
    for supplier in Supplier.objects.all():
        assert supplier.name not in page


def test_a_quote_that_lapses_soon_is_told_to_the_desk_and_not_to_the_lead(desk, make_person, frozen_clock):
    """The dental quotation is open for acceptance for 30 days: from 25 November to 25 December 2026."""
    stored_book(starter(), "starter")
    job = import_job_file(document("jobs/larkmoor-dental.json"), now=STORED_AT)
    today = date(2026, 11, 25)
    issued = issue_quote(job, request_key="once", seen_mark=None, by=make_person("owner"), now=STORED_AT, today=today)
    assert issued.valid_until == date(2026, 12, 25)
    told = f"Quote {issued.quote.number}, revision 1"
    assert told not in page_on(desk, frozen_clock, date(2026, 12, 7))
    assert told in page_on(desk, frozen_clock, date(2026, 12, 17))
    desk.force_login(make_person("lead"))
    assert told not in page_on(desk, frozen_clock, date(2026, 12, 17))


def test_a_quote_that_lapses_on_a_sunday_is_not_due_on_the_friday_before(desk, make_person, frozen_clock):
    # Open for 30 days from Friday 20 November: to Sunday 20 December 2026, two days after a Friday.
    stored_book(starter(), "starter")
    job = import_job_file(document("jobs/larkmoor-dental.json"), now=STORED_AT)
    asked = {"request_key": "once", "seen_mark": None, "by": make_person("owner"), "now": STORED_AT}
    assert issue_quote(job, today=date(2026, 11, 20), **asked).valid_until == date(2026, 12, 20)

    def told(day):
        return next(row for row in rows(page_on(desk, frozen_clock, day)) if "can be accepted until" in row)

    assert "1 working day in hand" in told(date(2026, 12, 18))
    assert "due today" in told(date(2026, 12, 20))


def test_the_page_asks_no_more_of_the_database_for_more_jobs(desk, frozen_clock):
    def asked():
        page_on(desk, frozen_clock, date(2026, 12, 9))  # who looks first works up what has changed
        with CaptureQueriesContext(connection) as queries:
            page_on(desk, frozen_clock, date(2026, 12, 9))
        return len(queries)

    stored_job("larkmoor-dental")
    stored_job("merrow-finch-boutique")
    few = asked()
    stored_job("ashgrove-library")
    stored_job("brightwell-childcare")
    assert asked() <= few
