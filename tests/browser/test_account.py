import pytest

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("width", [1280, 390])
def test_the_account_page_is_whole_in_a_browser(visit, width):
    page = visit("/account/", width=width)
    assert page.locator("h1").inner_text() == "The estimator"
