"""The client's own path: an option ticked, the total that follows, Accept, and the same link afterwards."""

import pytest
from playwright.sync_api import expect

from quoting.client.pages.gate import ANSWERS, LOOKS
from tests.browser.conftest import DESKTOP, PHONE
from tests.support.answered import secret_to, with_paper
from tests.support.triggers import drop_triggers
from tests.support.worked import NOW, PRICING, issued, small_job

pytestmark = pytest.mark.browser
OAK = {"key": "oak", "title": "Cap rail in oak", "price": "480.00", "cost": "310.00", "materials_price": "480.00"}
# Of everything that is read before something is decided.
FIRST_SCREEN_PX = 600


@pytest.fixture
def address(transactional_db, frozen_clock):
    frozen_clock.move_to(NOW)
    for limit in (LOOKS, ANSWERS):
        limit.forget()
    revision = issued(small_job("J-0400", pricing=PRICING | {"options": [OAK]}))
    yield f"/q/{secret_to(with_paper(revision))}/"
    drop_triggers()


@pytest.mark.parametrize("width", [DESKTOP, PHONE])
def test_wall_total_days_and_both_buttons_stand_on_the_first_screen(visit, address, width):
    page = visit(address, width=width)
    for part in (".first .drawing:visible", ".total", "text=Valid until", "summary:has-text('Accept')"):
        assert page.locator(part).first.bounding_box()["y"] < FIRST_SCREEN_PX
    foot = page.get_by_text("Ask a question").bounding_box()
    assert foot["y"] + foot["height"] <= FIRST_SCREEN_PX


def test_a_ticked_option_is_in_the_total_and_in_what_is_accepted(visit, address):
    page = visit(address)
    page.get_by_label("Cap rail in oak").check()
    # 15,641.39 and 480.00 with 13 % tax: 16,183.79.
    expect(page.locator("#total")).to_contain_text("16,183.79")
    page.locator("summary", has_text="Accept").click()
    expect(page.locator("#chosen")).to_contain_text("Cap rail in oak")
    page.get_by_label("Your name, in full").first.fill("Ada Client")
    page.get_by_role("button", name="Accept the quotation").click()
    expect(page.locator("main")).to_contain_text("Thank you, Ada Client.")
    expect(page.locator("main")).to_contain_text("16,183.79")
