"""Orders by the API, on the base of the dental screen: ordered on 16 December it is 4 working days late (worked
examples). Every answer is held against the API's own schema by `asking`."""

from datetime import UTC, datetime

import pytest

from jobs.orders.models import Order
from tests.stored import stored_job
from tests.support.asking import reasons

pytestmark = pytest.mark.both_engines
BASE = "BASE-514-FLEX"
NEW = {"request_key": "one", "supplier": "HENNOCK", "items": [{"job": "J-0001", "material": BASE}]}


@pytest.fixture
def job(db, frozen_clock):
    frozen_clock.move_to(datetime(2026, 12, 16, 15, 0, tzinfo=UTC))
    return stored_job("larkmoor-dental")


def test_an_item_says_what_it_states_what_holds_it_when_to_order_and_what_helps(office, job):
    (item,) = office.get("/api/jobs/J-0001/order-items").json()["items"]
    assert (item["material"], item["needs_release"], item["holds"][0]["key"]) == (BASE, True, "quote")
    assert item["choices"][0]["late_workdays"] == 4
    assert len([entry for entry in item["remedies"] if entry["usable"]]) >= 3


def test_an_order_is_drafted_once_released_and_placed_once(office, job):
    first, second = office.post("/api/orders", NEW), office.post("/api/orders", NEW)
    assert (first.status_code, second.status_code, Order.objects.count()) == (201, 200, 1)
    order = first.json()
    assert "is not released" in order["stops"][0]
    refused = office.post("/api/orders", NEW | {"request_key": "two"})
    assert refused.status_code == 409 and "is on order" in str(reasons(refused))
    placing = {"way": "other", "request_key": "p"}
    path = f"/api/orders/{order['number']}"
    assert office.post(f"{path}/place", placing, If_Match=first["ETag"]).status_code == 409
    mark = {"mark": order["lines"][0]["mark"]}
    assert office.post(f"/api/jobs/J-0001/releases/{BASE}", mark).status_code == 409
    released = office.post(f"/api/jobs/J-0001/releases/{BASE}", mark | {"reason": "The mill shuts."})
    assert released.json()["released_by"] == "the-office"
    placed = [office.post(f"{path}/place", placing, If_Match=first["ETag"]) for _ in range(2)]
    assert [entry.json()["state"] for entry in placed] == ["placed", "placed"]
    assert office.get("/api/orders").json()["count"] == 1


def test_a_draft_is_changed_from_the_version_that_was_seen_and_thrown_away(office, job):
    order = office.post("/api/orders", NEW)
    path = f"/api/orders/{order.json()['number']}"
    changed = office("PATCH", path, {"note": "Wrap it well.", "rush": [1]}, If_Match=order["ETag"])
    assert changed.json()["note"] == "Wrap it well." and changed.json()["lines"][0]["rush"]
    assert office("PATCH", path, {"note": "No."}, If_Match=order["ETag"]).status_code == 412
    assert office("DELETE", path).json()["state"] == "called_off"


def test_what_is_named_wrong_is_told_by_its_path(office, job):
    message = office.post("/api/orders", NEW | {"supplier": "NOBODY"})
    assert message.status_code == 400 and message.json()["errors"][0]["path"] == "supplier"
    message = office.post("/api/orders", NEW | {"items": [{"job": "J-9", "material": BASE}]})
    assert message.status_code == 400 and "not a job" in message.json()["errors"][0]["reason"]


def test_a_sample_is_asked_for_once_and_holds_the_item_until_somebody_agreed(office, lead, job):
    samples, texts = "/api/jobs/J-0001/samples", {"material": BASE, "what": "Base, paint grade"}
    first, second = (office.post(samples, texts) for _ in range(2))
    assert (first.status_code, second.status_code, first.json()) == (201, 200, second.json())
    assert "sample" in held_by(office)
    agreed = [office.post(f"{samples}/{first.json()['id']}/agreed", {"agreed_by": "M. Tell"}) for _ in range(2)]
    assert [entry.json()["agreed_by"] for entry in agreed] == ["M. Tell"] * 2
    assert "sample" not in held_by(office) and office.get(samples).json()["samples"] == [agreed[0].json()]
    assert office.post(samples, texts | {"material": "NONE"}).status_code == 409
    assert office.post(f"{samples}/9999/agreed", {"agreed_by": "M. Tell"}).status_code == 404
    assert lead.get(samples).status_code == 403


def held_by(office):
    (item,) = office.get("/api/jobs/J-0001/order-items").json()["items"]
    assert (item["left"], item["so_far"]) == (item["quantity"], ""), "nothing of it is on order"
    return {entry["key"].partition(":")[0] for entry in item["holds"]}
