"""The find box: one key leads to its page, words to a short list, and nobody is shown what is closed to them."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from catalog.models import Material
from jobs.deliveries.models import Confirmation
from jobs.jobs.models import Client, Job
from quoting.service.services.finding import MAX_A_GROUP
from tests.factories.orders import placed_order
from tests.stored import stored_job
from tests.support.desk import DAY, as_

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
BASE = "BASE-514-FLEX"


@pytest.fixture
def job():
    return stored_job("larkmoor-dental")


@pytest.fixture
def order(job):
    base = Material.objects.get(code=BASE)
    return placed_order(job, base, base.supplier).order


def groups_of(answer):
    return re.findall(r"<h2[^>]*>(\w+)</h2>", answer.content.decode())


def test_a_key_leads_straight_to_the_page_of_its_job(as_, job):
    assert as_("office").get("/find/", {"q": job.key.lower()})["Location"] == f"/jobs/{job.pk}/"


def test_the_same_key_leads_a_lead_to_the_site(as_, job):
    assert as_("lead").get("/find/", {"q": job.key})["Location"] == f"/jobs/{job.pk}/site/"


def test_an_order_is_found_by_its_number_and_by_the_suppliers_own(as_, order):
    confirmed = {"request_key": "one", "received_on": DAY.date(), "entered_at": DAY, "entered_by_name": "Ines"}
    Confirmation.objects.create(order=order, reference="HM-88012", **confirmed)
    desk = as_("office")
    for typed in (order.number, "hm-88012"):
        assert desk.get("/find/", {"q": typed})["Location"] == f"/buying/orders/{order.pk}/", typed


def test_words_are_found_in_jobs_walls_clients_and_orders_by_group(as_, job, order):
    desk = as_("office")

    def named_by(words):
        return groups_of(desk.get("/find/", {"q": words}))

    assert named_by("larkmoor") == ["Jobs", "Clients"]
    assert named_by("reception") == ["Jobs", "Walls"]
    assert named_by("hennoc") == ["Orders", "Suppliers"]
    assert "Materials" in named_by("bendable polymer")


def test_every_word_must_stand_in_what_is_found(as_, job):
    page = as_("office").get("/find/", {"q": "larkmoor nowhere"})
    assert groups_of(page) == [] and "No job, client or order found" in page.content.decode()


def test_a_lead_finds_jobs_and_walls_and_nothing_that_is_bought(as_, job, order):
    lead = as_("lead")
    assert groups_of(lead.get("/find/", {"q": "reception"})) == ["Jobs", "Walls"]
    for typed in ("hennock", order.number, BASE, "larkmoor dental 12"):
        page = lead.get("/find/", {"q": typed})
        assert page.status_code == 200 and not {"Orders", "Suppliers", "Materials", "Clients"} & set(groups_of(page))


def test_a_long_list_stops_and_says_so_and_costs_as_much_as_a_short_one(as_, job):
    desk = as_("office")
    with CaptureQueriesContext(
        connection,
    ) as few:
        desk.get("/find/", {"q": "larkmoor"})
    for number in range(30):
        client = Client.objects.create(name=f"Larkmoor {number}")
        Job.objects.create(key=f"J-9{number:03}", title="Larkmoor", client=client, created_at=DAY)
    with CaptureQueriesContext(connection) as many:
        page = desk.get("/find/", {"q": "larkmoor"}).content.decode()
    assert len(many) == len(few)
    assert page.count(f"More than {MAX_A_GROUP}: add a word.") == 2


@pytest.mark.parametrize("typed", ["", "  ", "\x00", "%", "_", "x" * 500])
def test_what_finds_nothing_says_what_to_type(as_, job, typed):
    page = as_("office").get("/find/", {"q": typed})
    assert page.status_code == 200
