import pytest

pytestmark = pytest.mark.browser


def test_the_sheet_of_the_api_is_read_room_by_room(visit):
    page = visit("/api/docs/")
    page.get_by_role("link", name="work-up").click()
    page.get_by_text("/api/work-up", exact=True).wait_for()
    page.locator("details.line summary").last.click()
    assert page.locator("details.line[open]").last.is_visible()
