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
    ("/jobs/{}/price/?step=terms", "options", "title"),
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
    page.evaluate("document.querySelectorAll('details').forEach((one) => one.open = true)")
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
    page, wanted = visit(f"/jobs/{job.pk}/change/"), list[str]()
    page.on("dialog", lambda dialog: (wanted.append(dialog.type), dialog.dismiss()))
    page.get_by_label("Title").press_sequentially("x")
    page.locator(".masthead nav a").first.click()
    assert wanted == ["beforeunload"] and page.url.endswith("/change/")
    page.get_by_role("button", name="Save", exact=True).click()
    page.wait_for_url(f"**/jobs/{job.pk}/")
    assert wanted == ["beforeunload"]


def test_a_form_that_came_back_asks_too_and_a_corrected_field_is_forgiven_at_once(visit, job):
    page, wanted = visit("/jobs/new/"), list[str]()
    page.get_by_label("Client", exact=True).fill("")
    page.get_by_label("Title").fill("")
    page.get_by_role("button", name="Create job").click()
    expect(page.get_by_role("heading", name="Not saved: 2 fields")).to_be_visible()
    expect(page.get_by_label("Title")).to_be_focused()
    page.get_by_label("Title").press_sequentially("Bar")
    expect(page.get_by_role("heading", name="Not saved: 1 field")).to_be_visible()
    expect(page.locator("#id_title_error")).to_be_empty()
    page.on("dialog", lambda dialog: (wanted.append(dialog.type), dialog.accept()))
    page.locator(".masthead nav a").first.click()
    page.wait_for_url(lambda url: not url.endswith("/jobs/new/"))
    assert wanted == ["beforeunload"]


@pytest.mark.parametrize("path", ["/jobs/{}/price/", "/jobs/{}/site/days/", "/jobs/{}/walls/reception-screen/"])
def test_no_page_scrolls_within_the_page(visit, job: Job, path):
    page = visit(path.format(job.pk))
    scrolls = """[...document.querySelectorAll("main *")].filter((one) => one.scrollHeight > one.clientHeight + 1
      && ["auto", "scroll"].includes(getComputedStyle(one).overflowY)
      && one.offsetParent && getComputedStyle(one).overflowX === "visible")
      .map((one) => one.className)"""
    assert page.evaluate(scrolls) == []


def test_the_total_stays_in_sight_beside_a_long_form(visit, job):
    page = visit(f"/jobs/{job.pk}/price/?step=terms")
    page.evaluate("document.querySelectorAll('#pricing details').forEach((one) => one.open = true)")
    page.get_by_label("Language of the notice").scroll_into_view_if_needed()
    expect(page.locator("#figures .facts.total")).to_be_in_viewport()


@pytest.fixture
def wall_page(visit, job):
    return visit(f"/jobs/{job.pk}/walls/reception-screen/")


OPEN_FIELDS = """[...document.querySelectorAll("main :is(input, select, textarea):not([type=hidden])")]
  .filter((one) => one.checkVisibility() && !one.disabled).map((one) => one.name)"""


@pytest.fixture
def new_wall_page(visit, job):
    return visit(f"/jobs/{job.pk}/add-wall/")


def test_of_a_wall_the_fields_measured_each_time_are_open_and_the_rest_a_line_each(new_wall_page, wall_page):
    first = ["measured_on", "pieces-0-chord", "pieces-0-rise", "pieces-0-turn", "height"]
    assert wall_page.evaluate(OPEN_FIELDS) == first
    assert new_wall_page.evaluate(OPEN_FIELDS) == ["name", *first]


def test_the_height_of_a_wall_is_at_most_eight_tab_stops_from_its_name(new_wall_page):
    new_wall_page.locator("#name").focus()
    for _ in range(8 - 1):
        if new_wall_page.evaluate("document.activeElement.id") != "height":
            new_wall_page.keyboard.press("Tab")
    assert new_wall_page.evaluate("document.activeElement.id") == "height"


@pytest.mark.parametrize(("rows", "leaf"), [("openings", "name"), ("pieces", "chord"), ("trims", "name")])
def test_a_row_of_a_wall_is_added_in_place_and_keeps_what_is_typed_at_once(wall_page, rows, leaf):
    wall_page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    wall_page.locator(f'[data-adds="{rows}"]').wait_for()
    slow_down(wall_page)
    assert type_in_a_new_row(wall_page, rows, leaf) == "12"
    assert wall_page.locator(f'[data-in="{rows}"]').last.evaluate("row => row.contains(document.activeElement)")


def test_what_is_read_of_a_piece_moves_with_it_and_goes_with_it(wall_page):
    wall_page.locator("#add-pieces").click()
    wall_page.locator("#line-readings > summary").click()
    wall_page.locator("#add-readings").click()
    wall_page.locator("#readings-0-of_piece").select_option("2")
    wall_page.locator("#up-pieces-1").click()
    expect(wall_page.locator("#readings-0-of_piece")).to_have_value("1")
    wall_page.locator("#remove-pieces-0").click()
    expect(wall_page.locator('[data-in="readings"]')).to_have_count(0)
    expect(wall_page.locator("#pieces-0-chord")).to_have_value("14' 0\"")


def test_a_line_that_holds_an_error_opens_and_the_rest_stay_closed(wall_page):
    wall_page.locator("#line-studs > summary").click()
    wall_page.locator("#stud_depth").fill("deep")
    wall_page.get_by_role("button", name="Save the wall", exact=True).click()
    expect(wall_page.get_by_role("heading", name="Not saved: 1 field")).to_be_visible()
    expect(wall_page.locator("#stud_depth")).to_be_focused()
    opened = wall_page.evaluate("[...document.querySelectorAll('#wall-form > details[open]')].map((one) => one.id)")
    assert opened == ["line-studs"]


def test_what_is_typed_while_a_drawing_is_on_its_way_stays(wall_page):
    """The reason stands in the part that comes anew with the drawing."""
    wall_page.get_by_label("Chord", exact=True).fill("100")
    wall_page.get_by_label("Rise", exact=True).fill("40")
    wall_page.locator("#as-is-1 > summary").click()
    reason = wall_page.get_by_label("Why it may be built so").first
    slow_down(wall_page)
    wall_page.get_by_label("Rise", exact=True).fill("41")
    wall_page.wait_for_timeout(300)
    reason.evaluate("field => { field.value = 'A mock-up held'; }")
    expect(wall_page.locator("#preview-said")).to_contain_text("Not saved yet")
    wall_page.wait_for_timeout(2 * SLOW_MS)
    expect(wall_page.get_by_label("Why it may be built so").first).to_have_value("A mock-up held")


def test_a_new_job_has_two_open_fields(visit, job):
    page = visit("/jobs/new/")
    assert page.evaluate(OPEN_FIELDS) == ["title", "client_name"]
    page.get_by_label("Title").fill("Bar front")
    page.get_by_label("Client", exact=True).fill("Ardwick Optics")
    page.get_by_role("button", name="Create job").click()
    expect(page.locator(".message.success")).to_contain_text("is open. Next: measure its first wall.")


def test_a_deleted_wall_comes_back_with_undo(visit, job):
    page = visit(f"/jobs/{job.pk}/walls/reception-screen/delete/")
    page.get_by_role("button", name="Delete Reception screen").click()
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".message.success")).to_contain_text("Reception screen is back as it was.")
    assert job.walls.count() == 1
