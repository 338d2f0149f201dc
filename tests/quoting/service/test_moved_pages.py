"""Old addresses lead to the page where it stands now; nothing of what was asked for is lost on the way."""

import re
from urllib.parse import urlsplit

import pytest
from django.urls import Resolver404, resolve

from quoting.service.pages.moved import MOVED
from tests.support.desk import as_

__all__ = ["as_"]
pytestmark = pytest.mark.django_db


def filled(address: str) -> str:
    return "/" + re.sub(r"<int:\w+>", "7", address)


@pytest.mark.parametrize(("old", "new"), MOVED)
def test_an_old_address_leads_to_the_new_one_for_good_with_what_was_asked(as_, old, new):
    answer = as_("owner").get(filled(old), {"work": "signed"})
    assert answer.status_code == 301
    assert answer["Location"] == f"/{re.sub(r'{[a-z]+}', '7', new)}?work=signed"


@pytest.mark.parametrize(("old", "new"), [row for row in MOVED if row[0] not in ("orders/from/",)])
def test_where_an_old_address_leads_a_page_stands(as_, old, new):
    address = urlsplit(as_("owner").get(filled(old))["Location"]).path
    try:
        name = resolve(address).url_name
    except Resolver404:  # it only begins pages, of which each has more to its address
        assert new.rstrip("/").rsplit("/", 1)[-1] in ("items", "receipts", "lines", "confirmed")
    else:
        assert not name.startswith("moved")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("/quotes/jobs/7/revisions/1/lines.csv", "/jobs/7/price/revisions/1/lines.csv"),
        ("/jobs/7/to-order/BASE 5-1/4/", "/jobs/7/buying/items/BASE%205-1/4/"),
        ("/orders/12/confirmation/", "/buying/orders/12/confirmation/"),
        ("/site/jobs/7/walls/lobby/field-check/", "/jobs/7/site/walls/lobby/field-check/"),
        ("/catalog/firm/standards/curve_factor/", "/firm/standards/curve_factor/"),
    ],
)
def test_what_follows_the_beginning_of_an_address_stays(as_, old, new):
    assert as_("owner").get(old)["Location"] == new


def test_a_stranger_logs_in_first(client):
    answer = client.get("/order-dates/")
    assert (answer.status_code, answer["Location"]) == (302, "/log-in/?next=%2Forder-dates%2F")
