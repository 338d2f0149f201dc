"""A bill entered with the keyboard alone: what is left to place follows what is ticked and typed."""

import pytest

from jobs.bills.models import Bill
from tests.browser.conftest import PHONE
from tests.browser.measuring import violations
from tests.support.hall import DEARER, Hall
from tests.support.racing import emptied as emptied

pytestmark = pytest.mark.browser


def tab_to(page, name):
    """As somebody without a mouse goes there."""
    for _ in range(80):
        if page.evaluate("document.activeElement.name || document.activeElement.textContent") == name:
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{name} is not reached by the keyboard")


@pytest.fixture
def hall(transactional_db, emptied):
    return Hall()


def test_a_bill_is_entered_without_a_mouse(visit, hall):
    page = visit("/buying/bills/new/", "office")
    left, keys = page.locator("[data-left]"), page.keyboard
    keys.type("The yard")
    page.get_by_text("Came without a bill").wait_for()
    for name, typed in (("number", "A-771"), ("total", "2,036.50")):
        tab_to(page, name)
        keys.type(typed)
    assert left.inner_text() == "2036.50"
    for code, then in (("TRACK", "1478.50"), ("STUD", "736.00"), ("PANEL", "96.00")):
        tab_to(page, f"goods-{hall.lines[code].pk}-tick")
        keys.press("Space")
        assert left.inner_text() == then
    page.locator("[name=freight]").focus()
    keys.type("96")
    assert left.inner_text() == "0.00"
    keys.press("Enter")
    page.get_by_text("Entered: A-771 of The yard").wait_for()
    assert Bill.objects.get().lines.count() == 5


def test_what_differs_is_ticked_and_saved_on_a_phone(visit, hall):
    page = visit("/buying/bills/new/?supplier=YARD", "office", width=PHONE)
    page.get_by_label("Number").fill("A-779")
    page.get_by_label("Total").fill("464.40")
    page.get_by_label("Board, 24 pieces").check()
    page.locator(f"[name=goods-{hall.lines['BOARD'].pk}-amount]").fill("464.40")
    page.get_by_role("button", name="Save the bill").click()
    page.get_by_label(DEARER).check()
    assert violations(page) == []
    page.get_by_role("button", name="Save the bill").click()
    page.get_by_text("Entered: A-779").wait_for()


def test_another_line_is_added_with_the_focus_in_it(visit, hall):
    page = visit("/buying/bills/new/?supplier=YARD", "office")
    page.get_by_role("button", name="Another line").click()
    page.keyboard.type("Sundries")
    assert page.locator("[name=own-0-what]").input_value() == "Sundries"
    page.locator("[name=own-0-amount]").fill("5")
    page.get_by_label("Total").fill("5.00")
    assert page.locator("[data-left]").inner_text() == "0.00"


def test_the_list_the_bill_and_the_slip_have_no_fault_a_machine_finds(visit, hall):
    for path, role in (("/buying/bills/", "office"), ("/buying/bills/file/", "office"), ("/receiving/slip/", "lead")):
        assert violations(visit(path, role, width=PHONE, dark=True)) == [], path
