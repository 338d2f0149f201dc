import pytest
from playwright.sync_api import expect

from tests.browser.test_quotes import job

__all__ = ["job"]

pytestmark = pytest.mark.browser


def test_labour_follows_the_walls_hours_while_it_is_typed(visit, job):
    page = visit(f"/jobs/{job.pk}/price/", "estimator")
    page.locator("#pricing").get_by_text("Labour", exact=True).click()
    page.get_by_label("Cost of an hour of the walls").fill("47.00")
    expect(page.locator("#figures")).to_contain_text("Track and studs")
    expect(page.locator("#figures")).to_contain_text("curve factor")
    page.get_by_role("button", name="Save", exact=True).click()
    visit(f"/jobs/{job.pk}/price/", "office")
