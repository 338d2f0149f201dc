"""Forms somebody works in: rows, what is unsaved, what keeps a form from being saved."""

from datetime import UTC, datetime

import pytest
from playwright.sync_api import Page, Route, expect

from jobs.jobs.models import Job
from quoting.pricing.services.pricing import store_pricing
from tests.documents import job_file
from tests.stored import stored_job

pytestmark = pytest.mark.browser
SLOW_MS = 1_500
ROWS = [
    ("/jobs/{}/price/", "other", "what"),
    ("/jobs/{}/price/", "options", "title"),
    ("/jobs/{}/buying/other-items/", "items", "quantity"),
    ("/jobs/{}/site/days/", "closed", "reason"),
    ("/jobs/{}/site/people/", "people", "name"),
]


@pytest.fixture
def job(transactional_db, frozen_clock):
    frozen_clock.move_to(datetime(2026, 11, 25, 15, 0, tzinfo=UTC))
    job, pricing = stored_job("larkmoor-dental"), job_file("larkmoor-dental").pricing
    assert pricing is not None
    store_pricing(job, pricing)
    return job


def slow_down(page: Page) -> None:
    """Every answer to what is posted comes late."""

    def late(route: Route) -> None:
        if route.request.method == "POST":
            page.wait_for_timeout(SLOW_MS)
        route.continue_()

    page.route("**/*", late)


def type_in_a_new_row(page: Page, rows: str, leaf: str) -> str:
    """What stands in the last row when the slow answer is there; it was typed in 0.3 s after the row was asked for."""
    page.evaluate(
        """([rows, leaf]) => {
          document.querySelector(`[data-adds="${rows}"]`).click();
          setTimeout(() => {
            const field = [...document.querySelectorAll(`[name^="${rows}-"][name$="-${leaf}"]`)].at(-1);
            field.value = "12";
            field.dispatchEvent(new Event("input", { bubbles: true }));
          }, 300);
        }""",
        [rows, leaf],
    )
    page.wait_for_timeout(2.5 * SLOW_MS)
    return page.locator(f'[name^="{rows}-"][name$="-{leaf}"]').last.input_value()


@pytest.mark.parametrize(("path", "rows", "leaf"), ROWS)
def test_a_row_is_added_in_place_at_once_and_takes_the_focus(visit, job, path, rows, leaf):
    page = visit(path.format(job.pk))
    slow_down(page)
    before, button = page.locator(f'[data-in="{rows}"]').count(), page.locator(f'[data-adds="{rows}"]')
    button.scroll_into_view_if_needed()
    at = page.evaluate("scrollY")
    button.click()
    added = page.locator(f'[data-in="{rows}"]').nth(before)
    assert added.evaluate("row => row.contains(document.activeElement)")
    added.locator(f'[name="{rows}-{before}-{leaf}"]').fill("12")
    assert abs(page.evaluate("scrollY") - at) < 300


def test_what_is_typed_right_after_a_row_was_added_stays_on_a_slow_line(visit, job):
    page = visit(f"/jobs/{job.pk}/price/")
    slow_down(page)
    assert type_in_a_new_row(page, "other", "what") == "12"


def test_without_the_script_a_row_comes_from_the_service_and_typing_meanwhile_is_lost(visit, job):
    """The control: it is the script that keeps what is typed."""
    page = visit(f"/jobs/{job.pk}/price/")
    page.route("**/rows.js", lambda route: route.fulfill(body="", content_type="text/javascript"))
    page.reload()
    before = page.locator('[data-in="other"]').count()
    slow_down(page)
    assert type_in_a_new_row(page, "other", "what") == ""
    expect(page.locator('[data-in="other"]')).to_have_count(before + 1)


def test_leaving_unsaved_asks_and_leaving_saved_does_not(visit, job):
    page, asked = visit(f"/jobs/{job.pk}/change/"), list[str]()
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.dismiss()))
    page.get_by_label("Title").press_sequentially("x")
    page.get_by_role("navigation", name="Main").get_by_role("link").first.click()
    assert asked == ["beforeunload"] and page.url.endswith("/change/")
    page.get_by_role("button", name="Save").click()
    page.wait_for_url(f"**/jobs/{job.pk}/")
    assert asked == ["beforeunload"]


def test_a_form_that_came_back_asks_too_and_a_corrected_field_is_forgiven_at_once(visit, job):
    page, asked = visit("/jobs/new/"), list[str]()
    page.get_by_label("Name").fill("")
    page.get_by_label("Title").fill("")
    page.get_by_role("button", name="Open the job").click()
    expect(page.get_by_role("heading", name="Not saved: 2 fields")).to_be_visible()
    expect(page.get_by_label("Title")).to_be_focused()
    page.get_by_label("Title").press_sequentially("Bar")
    expect(page.get_by_role("heading", name="Not saved: 1 field")).to_be_visible()
    expect(page.locator("#id_title_error")).to_be_empty()
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
    page.get_by_role("navigation", name="Main").get_by_role("link").first.click()
    page.wait_for_url(lambda url: not url.endswith("/jobs/new/"))
    assert asked == ["beforeunload"]


@pytest.mark.parametrize("path", ["/jobs/{}/price/", "/jobs/{}/site/days/", "/jobs/{}/walls/reception-screen/"])
def test_no_page_scrolls_within_the_page(visit, job: Job, path):
    page = visit(path.format(job.pk))
    scrolls = """[...document.querySelectorAll("main *")].filter((one) => one.scrollHeight > one.clientHeight + 1
      && ["auto", "scroll"].includes(getComputedStyle(one).overflowY)
      && one.offsetParent && getComputedStyle(one).overflowX === "visible")
      .map((one) => one.className)"""
    assert page.evaluate(scrolls) == []


def test_the_total_stays_in_sight_beside_a_long_form(visit, job):
    page = visit(f"/jobs/{job.pk}/price/")
    page.get_by_label("Valid for, days").scroll_into_view_if_needed()
    expect(page.locator("#figures .facts.total")).to_be_in_viewport()
