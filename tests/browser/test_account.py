import pytest

pytestmark = pytest.mark.browser


def test_the_account_page_is_whole_in_a_browser(visit):
    page = visit("/account/", role="office")
    assert page.locator("h1").inner_text() == "The office"
    page.get_by_role("button", name="Make an address").click()
    assert "/calendar/" in page.locator("code").first.inner_text()
