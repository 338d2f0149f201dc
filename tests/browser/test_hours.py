"""Hours on a phone: taps counted, and a sending that outlives a lost connection."""

from datetime import date

import pytest

from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services.entering import enter_hours
from quoting.platform.people.signatures import Signature
from tests.browser.conftest import PHONE
from tests.browser.measuring import violations
from tests.support.hours import NOW, TODAY, crew, line
from tests.support.worked import small_job

pytestmark = pytest.mark.browser
YESTERDAY = Signature("The lead", date(2026, 10, 4))
COUNT_TAPS = """addEventListener('pointerdown', () =>
  sessionStorage.setItem('taps', Number(sessionStorage.getItem('taps') || 0) + 1), true)"""
HOTSPOT = "<p>Log in to this hotspot</p>"


@pytest.fixture
def as_yesterday(visit, transactional_db):
    """The lead's Today, the day after two of the crew hung board."""
    job, who = small_job(), crew("Sam Orrin", "Ines Quarrell")
    lines = [line(worker, 465, date(2026, 10, 4), step="boards") for worker in who]
    enter_hours({"request_key": "y", "lines": lines}, YESTERDAY, now=NOW, among=Worker.objects.all(), job=job)
    page = visit("/today/", "lead", width=PHONE)
    page.context.add_init_script(COUNT_TAPS)
    page.reload()
    return page


def taps(page) -> int:
    return int(page.evaluate("sessionStorage.getItem('taps')") or 0)


def of_today():
    return list(TimeEntry.objects.filter(day=TODAY).order_by("pk").values_list("worker__name", "minutes", "step"))


def test_a_day_as_yesterday_is_entered_with_at_most_six_taps(as_yesterday):
    page = as_yesterday
    page.locator(".foot nav a", has_text="Hours").click()
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved: 15.5 h of Ines Quarrell and Sam Orrin").wait_for()
    assert of_today() == [("Ines Quarrell", 465, "boards"), ("Sam Orrin", 465, "boards")]
    assert taps(page) <= 6


def test_a_quarter_hour_less_and_one_who_was_not_there_are_a_tap_each(as_yesterday):
    page = as_yesterday
    page.locator(".foot nav a", has_text="Hours").click()
    page.get_by_role("button", name="A quarter hour less").first.click()
    page.get_by_role("checkbox", name="Ines Quarrell").first.click()
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved: 7.5 h of Sam Orrin").wait_for()
    assert (of_today(), taps(page)) == ([("Sam Orrin", 450, "boards")], 4)
    assert (
        min(
            entry.bounding_box()["height"]
            for entry in page.locator(".ticks label:visible, .quarters button:visible").all()
        )
        >= 44
    )


def test_hours_without_a_signal_say_they_are_not_sent_and_go_out_once(as_yesterday):
    page = as_yesterday
    page.goto("/hours/")
    page.route("**/hours/", lambda route: route.fulfill(body=HOTSPOT))
    page.get_by_role("checkbox", name="Ines Quarrell").first.click()
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Not sent").wait_for()
    assert of_today() == []
    page.unroute("**/hours/")
    # Opened anew, as after a battery gone flat, it holds who was ticked.
    page.reload()
    page.get_by_text("not sent yet").wait_for()
    ticked = [entry.is_checked() for entry in page.locator(".ticks").first.get_by_role("checkbox").all()]
    assert sorted(ticked) == [False, True]
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved: 7.75 h of Sam Orrin").wait_for()
    assert of_today() == [("Sam Orrin", 465, "boards")]


def test_an_answer_that_was_lost_is_asked_for_again_and_the_hours_are_there_once(as_yesterday):
    page = as_yesterday
    page.goto("/hours/")
    lost = []

    def lose(route):
        if route.request.method == "POST" and not lost:
            lost.append(route.fetch())
            route.fulfill(body=HOTSPOT)
        else:
            route.continue_()

    page.route("**/hours/", lose)
    page.get_by_role("button", name="Save").click()
    page.get_by_role("button", name="Send it now").click()
    page.get_by_text("These hours are saved already.").wait_for()
    assert len(of_today()) == 2


def test_an_entry_and_a_day_of_a_worker_are_whole_at_both_widths(as_yesterday, visit):
    row = TimeEntry.objects.first()
    for address in (f"/hours/{row.pk}/", f"/hours/of/{row.worker_id}/{row.day}/"):
        assert violations(visit(address, "lead", width=PHONE)) == []
