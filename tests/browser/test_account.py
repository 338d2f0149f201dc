import pytest

pytestmark = pytest.mark.browser


def test_the_account_page_is_whole_in_a_browser(visit):
    page = visit("/account/")
    assert page.locator("h1").inner_text() == "The estimator"
