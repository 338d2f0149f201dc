"""The agreed days of a job in a browser."""

from datetime import UTC, date, datetime

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import DESKTOP, PHONE, keep_picture

pytestmark = pytest.mark.browser


@pytest.fixture
def job(frozen_clock, stored_job):
    frozen_clock.move_to(datetime(2026, 11, 25, 15, 0, tzinfo=UTC))
    return stored_job("larkmoor-dental")


def opened(page, *names):
    """Lines opened in place, one within the other."""
    for name in names:
        page.locator("details:not([open]) > summary").filter(has=page.get_by_text(name, exact=True)).first.click()


def test_the_page_opens_with_a_row_for_every_activity_and_item(visit, job):
    page = visit(f"/jobs/{job.pk}/site/days/", "office")
    opened(page, "Trim")
    expect(page.get_by_role("group", name="Trim", exact=True).get_by_label("Not before")).to_have_value("2027-01-25")
    opened(page, "Days agreed for items", "Gypsum board, 1/4 in")
    expect(page.get_by_role("group", name="Gypsum board, 1/4 in").get_by_label("Cushion days")).to_have_value("1")


def test_what_moves_is_shown_while_it_is_typed_and_kept_only_when_saved(visit, job):
    page = visit(f"/jobs/{job.pk}/site/days/", "office")
    opened(page, "Days agreed for items")
    page.get_by_role("link", name="Other items").click()
    page.get_by_text("Wall primer for new board", exact=True).wait_for()
    opened(page, "Base, bendable polymer, 5-1/4 in, paint grade")
    base = page.get_by_role("group", name="Base, bendable polymer, 5-1/4 in, paint grade")
    base.get_by_label("Cushion days").fill("4")
    moves = page.locator("#moves")
    # Worked example, Larkmoor Dental: 3 days of cushion give 10 Dec 2026. One more is one working day earlier.
    expect(moves).to_contain_text("Thu 10 Dec")
    expect(moves).to_contain_text("Wed 9 Dec")
    expect(page.locator("#moves-brief")).to_contain_text("Moves: 1 item; not saved yet")
    keep_picture(page, "dates-moved", "office", DESKTOP, False)
    assert not job.item_dates.filter(material="BASE-514-FLEX").exists()
    page.get_by_role("button", name="Save", exact=True).last.click()
    expect(page.locator(".messages")).to_contain_text("Saved. 1 item has other days than before.")
    assert job.item_dates.get(material="BASE-514-FLEX").cushion_workdays == 4


def test_a_wrong_figure_is_told_while_it_is_typed(visit, job):
    page = visit(f"/jobs/{job.pk}/site/days/", "office", PHONE)
    opened(page, "Setting out")
    page.get_by_role("group", name="Setting out").get_by_label("Set working days").fill("501")
    expect(page.locator("#moves-brief")).to_contain_text("1 entry needs fixing")
    expect(page.locator("#moves")).to_contain_text("Setting out: Set working days: 501 must be from 0 to 500.")


def test_enter_in_a_field_saves(visit, job):
    page = visit(f"/jobs/{job.pk}/site/days/", "estimator")
    opened(page, "Days the site is shut")
    closed = page.get_by_role("group", name="Closed days 1")
    closed.get_by_label("First day closed").fill("2027-01-19")
    closed.get_by_label("Why").fill("Floor laid")
    closed.get_by_label("Why").press("Enter")
    expect(page.locator(".messages")).to_contain_text("Saved.")
    assert job.closures.get().last_day == date(2027, 1, 19)


def test_the_lead_reads_the_days_and_no_supplier(visit, job):
    page = visit(f"/jobs/{job.pk}/site/days/", "lead")
    opened(page, "Needed on site")
    expect(page.locator("dl", has_text="Base, bendable")).to_contain_text("Mon 25 Jan 2027")
    assert "Hennock" not in page.content() and page.locator("form#dates").count() == 0


def test_the_page_is_reached_from_the_job(visit, job):
    page = visit(f"/jobs/{job.pk}/", "office", PHONE)
    page.locator(".rooms").get_by_role("link", name="Site").click()
    page.get_by_role("link", name="Days", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Days")
