import re
from datetime import UTC, datetime

import pytest

from jobs.jobs.models import Job
from quoting.platform.errands.models import Errand
from tests.stored import stored_jobs

pytestmark = pytest.mark.browser


@pytest.fixture
def jobs(transactional_db, frozen_clock):
    frozen_clock.move_to(datetime(2026, 11, 25, 15, 0, tzinfo=UTC))
    return stored_jobs()


def test_every_open_job_s_items_stand_in_one_list_with_the_days_drawn(visit, jobs):
    page = visit("/buying/to-order/", "office")
    assert page.locator(".next-row .strip svg").first.is_visible()
    page.get_by_role("link", name=re.compile("^\\d+ items$")).click()
    page.locator(".next-row details summary").first.click()
    assert page.locator(".next-row li").count() > 20
    page.get_by_label("Supplier").select_option("HENNOCK")
    page.wait_for_url("**supplier=HENNOCK**")
    assert "Tollard" not in page.locator(".next-rows").first.inner_text()


def test_a_job_s_dates_are_those_of_the_worked_example(visit, jobs):
    job = Job.objects.get(title__icontains="reception")
    page = visit(f"/jobs/{job.pk}/buying/", "office")
    row = page.locator(".next-row", has_text="5-1/4 in, paint grade")
    # Worked example, Larkmoor Dental: with the mill's shutdown the base is ordered by 10 Dec 2026.
    assert "Thu 10 Dec" in row.inner_text()


def test_the_paper_shows_how_far_it_is_and_why_it_failed(visit, jobs):
    job = Job.objects.get(title__icontains="reception")
    page = visit(f"/jobs/{job.pk}/buying/", "office")
    page.get_by_text("On paper").click()
    page.get_by_role("button", name="Make today's paper").click()
    assert "Making the PDF" in page.locator(".paper-progress").inner_text()
    now = datetime(2026, 11, 25, 15, 1, tzinfo=UTC)
    Errand.objects.update(state="failed", error="The sheet is too long to print.", finished_at=now)
    page.get_by_text("The sheet is too long to print.").wait_for()
    page.get_by_role("button", name="Try again").click()
    assert "asked for again" in page.locator(".messages").inner_text()


def test_the_lead_sees_dates_and_no_supplier(visit, jobs):
    page = visit("/buying/to-order/", "lead")
    assert "Hennock" not in page.content() and "Thu 10 Dec" in page.content()
