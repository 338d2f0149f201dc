"""What no other test sees: a form that outlives a lost connection, in the browser that holds it."""

import pytest

from jobs.deliveries.models import Delivery
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
