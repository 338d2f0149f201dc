"""The frame of every page in a real browser: what is fixed hides nothing, and the main job needs no mouse."""

import pytest

from jobs.walls.models import Wall
from tests.browser.conftest import DESKTOP, PHONE, window

pytestmark = pytest.mark.browser
# What has the focus lies between the masthead and the foot, unless it stands in one of them; null past the last stop.
COVERED = """async () => {
  for (let frames = 0; frames < 2; frames++) await new Promise(requestAnimationFrame);
  const one = document.activeElement;
  if (!one || one === document.body) return null;
  if (one.closest(".masthead, .foot, .skip-link")) return "";
  const box = one.getBoundingClientRect();
  const mast = document.querySelector(".masthead").getBoundingClientRect();
  const foot = document.querySelector(".foot").getBoundingClientRect();
  const tall = box.height > foot.top - mast.bottom;
  const covered = !tall && (box.top < mast.bottom - 1 || box.bottom > foot.top + 1);
  return covered ? `${one.outerHTML.slice(0, 90)} ${box.top}` : "";
}"""
MAX_TABS = 90


@pytest.fixture
def job(stored_job):
    return stored_job("larkmoor-dental")


def tab_to(page, what):
    """Tab by tab to the first stop whose words or name are these."""
    for _ in range(MAX_TABS):
        page.keyboard.press("Tab")
        text = page.evaluate("(document.activeElement.innerText || document.activeElement.name || '').trim()")
        if text == what:
            return
    raise AssertionError(f"No stop {what!r} within {MAX_TABS} tabs of {page.url}")


@pytest.mark.parametrize("width", [DESKTOP, PHONE])
@pytest.mark.parametrize("path", ["/jobs/{}/price/", "/jobs/{}/site/days/", "/jobs/{}/walls/reception-screen/"])
def test_nothing_that_has_the_focus_lies_under_the_masthead_or_the_foot(visit, job, path, width):
    page = visit(path.format(job.pk), width=width)
    covered = []
    for key in ("Tab", "Shift+Tab"):
        for _ in range(MAX_TABS):
            page.keyboard.press(key)
            stop = page.evaluate(COVERED)
            if stop is None:
                break
            covered.append(stop)
    assert len(covered) > 20 and [stop for stop in covered if stop] == []


@pytest.mark.parametrize("width", [DESKTOP, PHONE])
def test_an_anchor_is_read_below_the_masthead(visit, width):
    page = visit("/account/#tokens", "office", width)
    top = page.evaluate("document.getElementById('tokens').getBoundingClientRect().top")
    assert top >= page.evaluate("document.querySelector('.masthead').getBoundingClientRect().bottom")


@pytest.mark.parametrize("width", [DESKTOP, PHONE])
def test_the_end_of_a_long_page_stands_clear_of_the_foot(visit, job, width):
    page = visit(f"/jobs/{job.pk}/", width=width)
    page.evaluate("window.scrollTo(0, document.documentElement.scrollHeight)")
    end = page.evaluate("document.getElementById('main').lastElementChild.getBoundingClientRect().bottom")
    assert end <= page.evaluate("document.querySelector('.foot').getBoundingClientRect().top")


@pytest.mark.parametrize(("width", "mast", "foot"), [(DESKTOP, 46, 52), (PHONE, 0, 60)])
def test_masthead_and_foot_are_as_high_as_the_sheet_says(visit, width, mast, foot):
    page = visit("/today/", width=width)
    high = "(name) => document.querySelector(name).getBoundingClientRect().height"
    assert (page.evaluate(high, ".masthead"), page.evaluate(high, ".foot")) == (mast, foot)


@pytest.mark.parametrize(
    ("role", "places"),
    [
        ("estimator", ["Today", "Jobs", "Buying", "More"]),
        ("office", ["Today", "Jobs", "Buying", "More"]),
        ("owner", ["Today", "Jobs", "Month", "More"]),
        ("lead", ["Today", "Sites", "Receiving", "Hours", "More"]),
    ],
)
def test_a_phone_has_the_places_of_its_role_at_the_foot(visit, role, places):
    page = visit("/today/", role, PHONE)
    assert page.locator(".foot nav b").all_inner_texts() == places
    page.locator(".foot nav").get_by_role("link", name="More").click()
    assert page.get_by_role("button", name="Log out").is_visible()


def test_on_a_phone_the_button_of_a_form_takes_the_last_cell(visit):
    page = visit("/account/password/", "lead", PHONE)
    foot, button = page.locator(".foot"), page.get_by_role("button", name="Change the password")
    assert not foot.get_by_role("link", name="More").is_visible()
    box = button.bounding_box()
    assert box is not None and box["x"] + box["width"] == PHONE and box["y"] > 844 - 61


def test_a_slash_goes_to_the_find_box_but_is_typed_in_a_field(visit, job):
    page = visit("/jobs/", "office")
    page.keyboard.press("/")
    assert page.evaluate("document.activeElement.id") == "find"
    page.keyboard.type("a/b")
    assert page.locator("#find").input_value() == "a/b"


def test_the_list_under_the_name_closes_by_escape_and_by_a_click_elsewhere(visit):
    page = visit("/today/", "owner")
    for leave in (lambda: page.keyboard.press("Escape"), lambda: page.locator("h1").click()):
        page.locator(".who summary").click()
        assert page.get_by_role("link", name="Firm", exact=True).is_visible()
        leave()
        assert not page.locator(".who[open]").count()


def test_the_main_job_is_done_by_keys_alone(browser, live_server, person_of, frozen_clock, job):
    person_of("estimator")
    context = browser.new_context(base_url=live_server.url, viewport=window(DESKTOP))
    page = context.new_page()
    page.goto("/log-in/")
    tab_to(page, "username")
    page.keyboard.type("the-estimator")
    tab_to(page, "password")
    page.keyboard.type("a long enough phrase")
    page.keyboard.press("Enter")
    page.wait_for_url("**/today/")
    page.keyboard.press("/")
    page.keyboard.type(job.key)
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/jobs/{job.pk}/")
    tab_to(page, "Walls")
    page.keyboard.press("Enter")
    page.wait_for_url("**/walls/reception-screen/")
    tab_to(page, "height")
    page.keyboard.press("Control+a")
    page.keyboard.type("10 ft")
    page.keyboard.press("Enter")
    page.get_by_text("Saved Reception screen").wait_for()
    assert Wall.objects.get(job=job).heights.first().height_mm == 10 * 12 * 25.4
    context.close()
