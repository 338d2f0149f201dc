import pytest

from tests.browser.test_quotes import job

__all__ = ["job"]

pytestmark = pytest.mark.browser


def test_the_plans_page_shows_the_boards_with_their_sheets(visit, job):
    page = visit(f"/jobs/{job.pk}/plans/", "office")
    assert page.get_by_role("button", name="Find a better plan").count() == 2
    assert "sheet 6" in page.locator("figure").first.inner_text()
