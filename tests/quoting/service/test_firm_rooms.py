"""The firm in one place: six rooms, each with its pages, by what a role may open."""

import re

import pytest
from django.urls import reverse

from tests.documents import starter
from tests.stored import stored_book
from tests.support.desk import as_

__all__ = ["as_"]


@pytest.fixture
def firm(frozen_clock, db):
    stored_book(starter(), "starter")


def links_of(client, name: str) -> list[str]:
    page = client.get(reverse(name)).content.decode()
    return [re.findall(r"<a [^>]*>([^<]+)</a>", nav) for nav in re.findall(r'<nav class="views.*?</nav>', page, re.S)]


def test_the_owner_has_six_rooms_and_the_pages_of_each(as_, firm):
    rooms = ["Firm", "Rates", "Words", "Standards", "Holidays", "People"]
    owner = as_("owner")
    assert links_of(owner, "firm") == [rooms, ["Particulars", "Mark", "Kit", "Payment", "Warnings"]]
    assert links_of(owner, "money_limits") == links_of(owner, "firm")
    assert links_of(owner, "holidays") == [rooms]
    assert links_of(owner, "firm_change") == []


def test_the_office_sees_the_rooms_it_may_open(as_, firm):
    assert links_of(as_("office"), "standards") == [
        ["Firm", "Words", "Standards", "Holidays"],
        ["Standards", "Stud spacing"],
    ]


def test_days_off_and_public_holidays_are_entered_on_one_page(as_, firm):
    estimator, page = as_("estimator"), reverse("holidays")
    estimator.post(reverse("firm_closure_add"), {"first": "2026-12-28", "reason": "between the years"})
    assert (
        estimator.post(reverse("holiday_set"), {"holiday-day": "2026-12-25", "holiday-name": "Winter day"}).url == page
    )
    shown = estimator.get(page).content.decode()
    assert "Mon 28 Dec, between the years" in shown and "Fri 25 Dec, Winter day" in shown
    wrong = estimator.post(reverse("firm_closure_add"), {"first": "2026-12-28", "last": "2026-12-01"})
    assert wrong.status_code == 422 and "on or after its first day" in wrong.content.decode()


def test_old_addresses_lead_to_the_firm_s_pages(as_, firm):
    owner = as_("owner")
    moved = {"/catalog/firm/": "/firm/", "/quotes/rates/": "/firm/rates/", "/people/": "/firm/people/"}
    assert {old: owner.get(old)["Location"] for old in moved} == moved
