"""The owner's month in a browser: eight jobs, why they made what they made, and the close, without leaving the page."""

from datetime import date

import pytest
from django.urls import reverse

from catalog.services.catalog_file import store_book
from quoting.life.models import KeptLife
from quoting.month.models import CauseSentence, ClosedMonth
from tests.browser.conftest import PHONE
from tests.factories.bills import bill_line, bill_row
from tests.factories.hours import time_entry, worker
from tests.factories.jobs import JobFactory
from tests.support.racing import emptied
from tests.support.signing import sign
from tests.support.worked import small_book

__all__ = ["emptied"]
pytestmark = pytest.mark.browser
SEPTEMBER = date(2026, 9, 1)


@pytest.fixture
def eight_jobs(transactional_db, emptied):
    """Five done in September, three that go on."""
    store_book(small_book(), on_known="keep")
    who, jobs = worker(), []
    for place in range(1, 9):
        job = JobFactory(key=f"M-{place}", title=f"Screen {place}")
        sign(job)
        facts = {"opened_on": "2026-08-01", "client": "Ada Vane", "signed_on": "2026-08-10", "begun_on": "2026-09-01"}
        facts |= {"last_end": f"2026-09-{20 + place}"} if place <= 5 else {}
        station = "done" if place <= 5 else "on_site"
        KeptLife.objects.update_or_create(job=job, defaults={"facts": facts, "station": station})
        time_entry(who, job, 30, date(2026, 9, 7 + place))
        bill = bill_row(f"B-{place}", day=date(2026, 9, 20), posted_month=SEPTEMBER)
        bill_line(bill, job, f"{10 * place}.00")
        jobs.append(job)
    return jobs


@pytest.mark.parametrize("width", [1280, PHONE])
def test_the_owner_closes_a_month_of_eight_jobs_on_one_page(visit, eight_jobs, width):
    address = reverse("month_of", args=["2026-09"])
    page = visit(address, "owner", width=width)
    shown: list[str] = []
    page.on("framenavigated", lambda frame: shown.append(frame.url.partition("?")[0]))
    assert page.locator(".month-jobs tbody tr").count() == 8
    row = page.locator(".month-jobs tr", has_text="Screen 5")
    row.locator("summary").click()
    row.get_by_label("Why, Screen 5").fill("Two boards came bad.")
    row.get_by_role("button", name="Save").click()
    page.get_by_text("Saved why Screen 5 made what it made.").wait_for()
    assert row.locator("summary").inner_text() == "Two boards came bad."
    close = page.get_by_role("button", name="Close September")
    box = close.bounding_box()
    assert box is not None and box["x"] + box["width"] <= width, "it reaches out of the window"
    close.click()
    page.get_by_text("September 2026 is closed.").wait_for()
    assert "Closed" in page.locator(".title-block").text_content()
    assert page.get_by_role("button", name="Close September").count() == 0
    assert {url.removeprefix(page.url.partition("/month/")[0]) for url in shown} == {address}
    assert (ClosedMonth.objects.get().month, CauseSentence.objects.get().text) == (SEPTEMBER, "Two boards came bad.")
