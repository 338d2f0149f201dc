"""Stock bought before its job is signed: under a name and with a reason, by page and API."""

from datetime import UTC, datetime

import pytest
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from catalog.models import Supplier
from jobs.orders.models import Order, Release
from jobs.orders.services.drafting import draft_order
from jobs.orders.services.placing import place_order, standing_of_order
from tests.stored import stored_job
from tests.support.asking import reasons
from tests.support.desk import as_
from tests.support.signing import sign

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
NOW = datetime(2026, 12, 9, 15, 0, tzinfo=UTC)
MOMENT = datetime(2026, 12, 9, 10, 0, tzinfo=UTC)
BY = {"by": "R. Sallow", "now": NOW}
WHY = "The yard raises its prices on Friday."


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    return stored_job("larkmoor-dental")


@pytest.fixture
def order(job):
    yard = Supplier.objects.get(code="TOLLARD")
    chosen = [(job.pk, "TRACK-358"), (job.pk, "GB-14")]
    return draft_order(yard, chosen, request_key="one", moment=MOMENT, **BY)


def placed(order, **more):
    return place_order(order, way="other", seen_version=order.version, request_key="p", moment=MOMENT, **BY, **more)


def test_stock_of_an_unsigned_job_is_not_placed_without_a_reason(order):
    for reason in ("", "  "):
        with pytest.raises(Refused, match="before the job is signed"):
            placed(order, unsigned_reason=reason)
    order.refresh_from_db()
    assert order.state == "draft" and not Release.objects.exists()


@pytest.mark.both_engines
def test_with_a_reason_it_is_placed_and_kept_with_the_name_and_what_was_set_aside(order):
    placed(order, unsigned_reason=WHY)
    rows = Release.objects.all()
    assert {(row.material_id, row.reason, row.released_by_name) for row in rows} == {
        ("TRACK-358", WHY, "R. Sallow"),
        ("GB-14", WHY, "R. Sallow"),
    }
    assert {hold["key"] for row in rows for hold in row.holds} == {"quote"}
    assert {line.release.reason for line in order.lines.all()} == {WHY}


def test_the_history_of_the_job_tells_why_stock_was_bought_before_it_was_signed(as_, job, order):
    placed(order, unsigned_reason=WHY)
    page = as_("owner").get(reverse("job_history", args=[job.pk]), {"save": "all"}).content.decode()
    assert WHY in page and "R. Sallow" in page


def test_a_signed_job_is_asked_nothing_nor_is_what_somebody_stands_for_already(job, order):
    placed(order, unsigned_reason=WHY)
    again = draft_order(order.supplier, [(job.pk, "STUD-358")], request_key="two", moment=MOMENT, **BY)
    assert [standing.item.need.material for standing in standing_of_order(again, MOMENT).unsigned] == ["STUD-358"]
    sign(job)
    assert standing_of_order(again, MOMENT).unsigned == ()
    assert placed(again).state == "placed"


def test_the_page_of_the_order_asks_why_and_says_what_for(as_, order):
    office, path = as_("office"), reverse("order_place", args=[order.pk])
    page = office.get(reverse("order", args=[order.pk])).content.decode()
    assert 'name="unsigned_reason"' in page and "Gypsum board, 1/4 in of J-0001" in page
    sent = {"version": order.version, "way": "other", "request_key": "k"}
    message = office.post(path, sent, follow=True).content.decode()
    assert "Not placed" in message and Order.objects.get().state == "draft"
    assert "is placed" in office.post(path, sent | {"unsigned_reason": WHY}, follow=True).content.decode()


def test_the_api_asks_why_and_names_the_stock(office, order):
    path = f"/api/orders/{order.number}"
    result = office.get(path)
    assert len(result.json()["unsigned"]) == 2 and result.json()["stops"] == []
    refused = office.post(f"{path}/place", {"way": "other", "request_key": "p"}, If_Match=result["ETag"])
    assert refused.status_code == 409 and "before the job is signed" in str(reasons(refused))
    sent = {"way": "other", "request_key": "p", "unsigned_reason": WHY}
    placed = office.post(f"{path}/place", sent, If_Match=result["ETag"]).json()
    assert placed["state"] == "placed" and {line["released_by"] for line in placed["lines"]} == {"the-office"}
