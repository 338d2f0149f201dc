from datetime import UTC, date, datetime

import pytest
from django.db import connection
from django.test import override_settings
from playwright.sync_api import expect

from jobs.jobs.models import Job
from quoting.core.quotes.job_file import PricingSpec
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.immutable_tables import thaw
from quoting.platform.papers.papers import RENDER_QUOTE
from quoting.platform.people.models import Role
from quoting.pricing.services.pricing import pricing_document, pricing_of, save_pricing, store_pricing
from quoting.quotes.services.quotes import issue_quote
from tests.documents import job_file
from tests.stored import stored_job

pytestmark = pytest.mark.browser
DAY = date(2026, 11, 25)


def priced(name: str) -> Job:
    job, spec = stored_job(name), job_file(name).pricing
    assert isinstance(spec, PricingSpec)
    store_pricing(job, spec)
    return job


@pytest.fixture
def job(transactional_db, frozen_clock, tmp_path):
    frozen_clock.move_to(datetime(2026, 11, 25, 15, 0, tzinfo=UTC))
    with override_settings(MEDIA_ROOT=tmp_path):
        yield priced("larkmoor-dental")
    # What is issued cannot be deleted, not even by the emptying of the tables between tests.
    thaw(connection)


def test_the_quote_follows_what_is_typed(visit, job):
    page = visit(f"/jobs/{job.pk}/price/", "estimator")
    # Worked example, Larkmoor Dental: 38 % margin on the cost is 13,841.94, and 15,641.39 with 13 % tax.
    assert "15,641.39" in page.locator("#figures").inner_text()
    page.get_by_label("Target margin, %").fill("40")
    # 8,582.00 / 0.60 = 14,303.33, which makes 16,162.76 with 13 % tax.
    expect(page.locator("#figures")).to_contain_text("16,162.76")
    page.get_by_label("Target margin, %").fill("forty")
    page.get_by_text("Finish these to see the price").wait_for()


@pytest.mark.parametrize("width", [1280, 390])
def test_a_failed_save_stands_first_and_the_first_wrong_field_has_the_focus(visit, job, width):
    page = visit(f"/jobs/{job.pk}/price/", "estimator", width=width)
    page.get_by_label("Target margin, %").fill("forty")
    page.get_by_label("Least margin, %").fill("none")
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_role("heading", name="Not saved: 2 fields").wait_for()
    expect(page.get_by_label("Target margin, %")).to_be_focused()
    expect(page.get_by_label("Target margin, %")).to_be_in_viewport()
    expect(page.get_by_role("heading", name="Not saved: 2 fields")).to_be_in_viewport()
    expect(page.get_by_role("link", name="Look and send")).to_have_count(0)
    page.get_by_role("alert").get_by_role("link").last.click()
    expect(page.get_by_label("Least margin, %")).to_be_in_viewport()
    page.get_by_label("Least margin, %").fill("30")
    page.get_by_label("Target margin, %").fill("40")
    page.get_by_role("heading", name="Not saved yet").wait_for()


def test_a_quote_is_issued_its_paper_made_and_handed_out(visit, job):
    page = visit(f"/jobs/{job.pk}/price/", "estimator")
    page.get_by_role("link", name="Look and send").click()
    page.get_by_role("button", name="Only the PDF").click()
    assert "Making the PDF" in page.locator(".paper-progress").inner_text()
    run_errand(Errand.objects.get(kind=RENDER_QUOTE).pk, "browser test")
    with page.expect_download() as download:
        page.get_by_role("link", name="Download PDF").click()
    assert download.value.suggested_filename == "Q-2026-0001-revision-1.pdf"
    visit(f"/jobs/{job.pk}/price/revisions/1/", "owner")


def test_the_office_sees_costs_and_no_margin(visit, job):
    page = visit(f"/jobs/{job.pk}/price/", "office")
    shown = page.locator("main").text_content()
    assert "8,582.00" in shown and "margin" not in shown.lower()


@pytest.mark.parametrize("path", ["/firm/usual-pricing/", "/firm/rates/"])
def test_the_firm_s_usual_pricing_and_rates_are_whole(visit, job, path):
    assert visit(path, Role.OWNER).locator("h1").inner_text()


def test_issuing_comparing_and_the_history_are_whole(visit, job, person_of):
    now = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)
    for key in ("first", "second"):
        issue_quote(job, request_key=key, seen_mark=None, by=person_of("owner"), now=now, today=now.date())
    page = visit(f"/jobs/{job.pk}/price/send/", "owner")
    assert "revision 2 can no longer be accepted" in page.locator("main").inner_text()
    page = visit(f"/jobs/{job.pk}/price/compare/?a=1&b=2", "owner")
    assert "Superseded" in page.locator("main").inner_text()
    page = visit(f"/jobs/{job.pk}/history/", "owner")
    page.get_by_role("link", name="All fields").click()
    assert "Target margin" in page.locator("main").text_content()


def test_options_allowances_and_a_price_that_waits_for_a_second_person_are_whole(visit, job):
    terms = {
        "contingency": {"share": "0.05", "shown": True},
        "allowances": [{"what": "Pendant lamp over the desk", "amount": "500.00"}],
        "options": [
            {"title": "Cap rail in oak", "group": "Cap rail", "price": "480.00", "cost": "310.00"},
            {"title": "Cap rail in ash", "group": "Cap rail", "price": "395.00", "cost": "260.00"},
            {"title": "A third layer of board", "build": {"faces": [{"layers": 3}]}},
        ],
        "deposit": {"share": "0.1"},
        "checklist": [{"item": "Scaffold"}],
    }
    document = pricing_document(pricing_of(job), DAY) | terms
    document["policy"] |= {"target_margin": "0.2"}
    save_pricing(job, document, seen_version=None, on_day=DAY)
    page = visit(f"/jobs/{job.pk}/price/?step=terms", "estimator")
    figures = page.locator("#figures").text_content()
    assert "A third layer of board" in figures and "less deposit" in figures and "Scaffold" in figures
    page = visit(f"/jobs/{job.pk}/price/approve/", "owner")
    page.get_by_label("Why it may pass").fill("An old client")
    page.get_by_role("button", name="Approve this price").click()
    assert "Approved by" in page.locator("#figures").text_content()
