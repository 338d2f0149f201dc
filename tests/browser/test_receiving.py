"""What no other test sees: a form that outlives a lost connection, in the browser that holds it."""

import pytest

from catalog.core.ground.declared import write
from catalog.models import Material
from jobs.deliveries.models import Delivery
from jobs.orders.models import Order
from jobs.orders.services.items import live_item
from quoting.platform.firm_day import moment_at_the_firm
from tests.browser.conftest import PHONE
from tests.factories.orders import placed_order
from tests.support.childcare import NOW, trim_on_order

pytestmark = pytest.mark.browser


def test_a_delivery_checked_in_without_a_signal_goes_out_by_itself_and_once(visit, frozen_clock, transactional_db):
    frozen_clock.move_to(NOW)
    line = trim_on_order()
    page = visit(f"/receiving/orders/{line.order_id}/", "lead")
    page.route("**/receiving/orders/**", lambda route: route.fulfill(body="<p>Log in to this hotspot</p>"))
    page.get_by_label("Some missing or bad").check()
    page.get_by_label("Good", exact=True).fill("7")
    page.get_by_label("Damaged").fill("2")
    page.get_by_role("button", name="Check in", exact=True).click()
    page.get_by_text("Nothing is lost").wait_for()
    page.unroute("**/receiving/orders/**")
    # A page opened anew, as after a battery gone flat, still holds what was typed.
    page.reload()
    assert (page.get_by_label("Good", exact=True).input_value(), page.get_by_label("Damaged").input_value()) == (
        "7",
        "2",
    )
    page.get_by_role("button", name="Check in", exact=True).click()
    page.get_by_text("Checked in O-0001: 7 good, 2 damaged.").wait_for()
    assert Delivery.objects.get().lines.get().damaged == 2


def pieces_on_order(stored_job):
    """The base of the dental screen, of four pieces."""
    job, base = stored_job("larkmoor-dental"), Material.objects.get(code="BASE-514-FLEX")
    stated = live_item(job, base.code, moment_at_the_firm(NOW)).statement
    figures = {"statement": write(stated), "statement_mark": stated.mark, "quantity": stated.quantity}
    return placed_order(job, base, base.supplier, **figures)


def test_a_tap_says_what_is_bad_at_once_and_the_office_orders_just_that_again(visit, stored_job, frozen_clock):
    frozen_clock.move_to(NOW)
    line = pieces_on_order(stored_job)
    page = visit(f"/receiving/orders/{line.order_id}/", "lead", width=PHONE)
    bad = page.locator(".if-bad")
    assert not bad.is_visible()
    page.get_by_role("button", name="All came good").click()
    taps = page.get_by_role("radio", name="Damaged")
    taps.nth(1).check()
    assert bad.get_by_text("Claim today.").is_visible()
    assert min(entry.bounding_box()["height"] for entry in page.locator(".taps label").all()) >= 44
    page.get_by_role("button", name="Check in", exact=True).click()
    page.get_by_text("1 damaged.").first.wait_for()
    page = visit(f"/buying/orders/{line.order_id}/", "office")
    assert page.get_by_text("1 of 4 pieces came damaged.").is_visible()
    page.get_by_role("button", name="Order 1 piece again").click()
    page.get_by_role("heading", name="Draft order O-0002").wait_for()
    assert Order.objects.get(number="O-0002").lines.get().quantity == 1


def test_a_piece_tapped_twice_has_not_come(visit, stored_job, frozen_clock):
    frozen_clock.move_to(NOW)
    line = pieces_on_order(stored_job)
    page = visit(f"/receiving/orders/{line.order_id}/", "lead", width=PHONE)
    good = page.get_by_role("radio", name="Good").first
    good.click()
    assert good.is_checked()
    good.click()
    assert not good.is_checked()
