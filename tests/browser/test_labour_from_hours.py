import pytest
from playwright.sync_api import expect

from tests.browser.test_quotes import job

__all__ = ["job"]

pytestmark = pytest.mark.browser


def test_labour_follows_the_walls_hours_while_it_is_typed(visit, job):
    page = visit(f"/jobs/{job.pk}/price/", "estimator")
    page.get_by_label("Labour from the walls' hours").check()
    page.get_by_label("Cost of one such hour").fill("47.00")
    steps = page.get_by_role("region", name="Hours of the walls")
    expect(steps).to_contain_text("Track and studs")
    expect(steps).to_contain_text("curve factor")
    page.get_by_role("button", name="Save the pricing").last.click()
    visit(f"/jobs/{job.pk}/price/", "office")
