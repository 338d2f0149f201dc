"""The pages of orders, wide and narrow."""

from datetime import UTC, datetime

import pytest

from catalog.models import OrderTerms, Supplier
from jobs.orders.services.drafting import draft_order
from jobs.orders.services.items import live_item
from jobs.orders.services.placing import place_order
from jobs.orders.services.releasing import release_item

pytestmark = pytest.mark.browser
NOW = datetime(2026, 12, 1, 15, 0, tzinfo=UTC)
BASE = "BASE-514-FLEX"
BY = {"by": "R. Sallow", "now": NOW, "moment": NOW}


def test_an_order_is_put_together_released_and_placed(visit, stored_job, frozen_clock):
    job = stored_job("larkmoor-dental")
    mill = Supplier.objects.get(code="HENNOCK")
    OrderTerms.objects.create(
        supplier=mill, freight=40, minimum_order=100, rush_production_workdays=8, rush_transit_workdays=1,
        rush_fee=185, source="telephone", stated_on=NOW.date(),
    )  # fmt: skip
    visit("/buying/on-the-way/", "office")
    visit("/buying/from/HENNOCK/", "office")
    page = visit("/buying/from/TOLLARD/", "office")
    sums = page.locator("#sums-1")
    assert "Ticked: 0 items." in sums.inner_text()
    page.get_by_role("checkbox").first.check()
    sums.get_by_text("Ticked: 1 item.").wait_for()
    visit(f"/jobs/{job.pk}/buying/items/{BASE}/", "office")
    frozen_clock.move_to(datetime(2026, 12, 16, 15, 0, tzinfo=UTC))
    page = visit(f"/jobs/{job.pk}/buying/items/{BASE}/", "office")
    assert page.get_by_text("4 working days late if ordered today").is_visible()
    frozen_clock.move_to(NOW)
    order = draft_order(mill, [(job.pk, BASE)], request_key="one", **BY)
    visit(f"/buying/orders/{order.pk}/", "office")
    mark = live_item(job, BASE, NOW).statement.mark
    release_item(job, BASE, seen_mark=mark, reason="The mill shuts before Christmas.", **BY)
    page = visit(f"/buying/orders/{order.pk}/", "office")
    assert page.get_by_role("button", name="Place the order").is_visible()
    place_order(order, way="other", seen_version=1, request_key="two", **BY)
    page = visit(f"/buying/orders/{order.pk}/", "office")
    assert page.get_by_role("heading", name="Enter the confirmation").is_visible()
    frozen_clock.move_to(datetime(2026, 12, 4, 15, 0, tzinfo=UTC))
    page = visit("/buying/on-the-way/", "office")
    assert page.get_by_role("link", name="Enter the confirmation").is_visible()
