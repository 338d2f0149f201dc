import pytest

from tests.browser.test_quotes import job

__all__ = ["job"]

pytestmark = pytest.mark.browser
CHOSEN = (
    "?variants-0-name=Level+3&variants-0-left_level=3&variants-0-right_level=3"
    "&variants-1-left_layers=1&variants-1-trim_form=template"
)


def test_builds_are_chosen_set_side_by_side_and_one_is_taken(visit, job):
    page = visit(f"/jobs/{job.pk}/builds/", "estimator")
    page.get_by_label("Left face, finish level").first.select_option("3")
    page.get_by_role("button", name="Compare").click()
    table = page.get_by_role("region", name="Builds side by side")
    # Worked example, Larkmoor Dental: price 13,841.94.
    assert "13,841.94" in table.inner_text() and "First build" in table.inner_text()
    page.get_by_role("button", name="Use this build").click()
    assert "First build" in page.get_by_role("status").or_(page.locator(".message")).first.inner_text()
    assert job.walls.get().left_level == 3


def test_two_builds_stand_beside_the_present_one(visit, job):
    page = visit(f"/jobs/{job.pk}/builds/{CHOSEN}", "estimator")
    assert page.locator("section").get_by_role("button", name="Use this build").count() == 2


def test_the_office_compares_costs_and_sees_no_price(visit, job):
    shown = visit(f"/jobs/{job.pk}/builds/{CHOSEN}", "office").locator("main").inner_text()
    assert "Cost of materials" in shown and "13,841.94" not in shown
