import pytest

from quoting.platform.papers.typeset import order_dates_pdf, quote_pdf
from tests.quoting.papers.samples import boutique_order_dates, dental_quote


@pytest.fixture(scope="session")
def quote_bytes() -> bytes:
    return quote_pdf(dental_quote())


@pytest.fixture(scope="session")
def order_dates_bytes() -> bytes:
    return order_dates_pdf(boutique_order_dates())
