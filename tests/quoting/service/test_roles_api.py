"""What each role is given. Who may call what at all is tested in tests/quoting/platform/people/test_access.py."""

import json
from datetime import date
from decimal import Decimal

import pytest

from quoting.platform.people.models import Role
from tests.documents import document, job_file
from tests.support.asking import Asker

DAY = date(2026, 11, 25)
MONEY_NAMES = {"cost", "unit_price", "amount", "material_cost", "price", "margin", "supplier", "lead_term"}


def names_within(value):
    if isinstance(value, dict):
        yield from value
        for inner in value.values():
            yield from names_within(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from names_within(inner)


def money_within(value):
    if isinstance(value, dict):
        for name, inner in value.items():
            if name in MONEY_NAMES and isinstance(inner, str):
                yield inner
            yield from money_within(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from money_within(inner)


@pytest.mark.parametrize("part", ["takeoff", "schedule", "walls/reception-screen/takeoff"])
def test_the_lead_sees_no_money_and_no_supplier(part, estimator, lead, dental):
    path = f"/api/jobs/{dental.key}/{part}?today={DAY}"
    full, given = estimator.get(path), lead.get(path)
    assert given.status_code == 200
    assert set(names_within(given.json())) & MONEY_NAMES == set()
    assert set(names_within(full.json())) & MONEY_NAMES, "the control: the estimator does see them"
    for supplier in job_file("larkmoor-dental").book.suppliers.values():
        assert supplier.name not in given.content.decode()
    amounts = {amount for amount in money_within(full.json()) if len(amount) > 5}
    assert not [amount for amount in amounts if f'"{amount}"' in given.content.decode()]


def test_the_lead_has_every_quantity_the_estimator_has(estimator, lead, dental):
    path = f"/api/jobs/{dental.key}/takeoff?today={DAY}"
    full, given = estimator.get(path).json(), lead.get(path).json()
    assert given["walls"] == full["walls"]
    assert given["lines"] == full["lines"]
    assert [entry["buy"] for entry in given["purchases"]] == [entry["buy"] for entry in full["purchases"]]


@pytest.mark.parametrize("path", ["quote", "pricing", "job-file", "quote/issue"])
def test_the_lead_is_given_no_price(path, lead, dental):
    method = "POST" if path == "quote/issue" else "GET"
    assert lead(method, f"/api/jobs/{dental.key}/{path}").status_code == 403


@pytest.mark.parametrize(
    "path", ["/api/catalog/materials", "/api/catalog/suppliers", "/api/catalog/firm", "/api/quotes"]
)
def test_the_lead_is_not_shown_the_catalog_nor_quotes(path, lead, starter_catalog):
    assert lead.get(path).status_code == 403


def test_the_office_sees_costs_and_no_margin(estimator, office, dental):
    path = f"/api/jobs/{dental.key}/quote?today={DAY}"
    full, given = estimator.get(path).json(), office.get(path).json()
    assert Decimal(full["office"]["margin"]) == Decimal("0.38")
    assert given["office"]["cost"] == full["office"]["cost"] == "8582.00"
    assert set(full["office"]) - set(given["office"]) == {"margin", "price_by_category", "explanations"}
    assert "argin" not in json.dumps(given["office"])


def test_a_file_sent_is_answered_by_role(estimator, office, lead, starter_catalog):
    sent = document("jobs/larkmoor-dental.json")
    path = f"/api/work-up?today={DAY}"
    assert "margin" in estimator.post(path, sent).json()["quote"]["office"]
    assert "margin" not in office.post(path, sent).json()["quote"]["office"]
    assert lead.post(path, sent).status_code == 403


def test_the_lead_may_take_a_wall_off_without_prices(lead, starter_catalog):
    answer = lead.post("/api/takeoff", {"wall": document("jobs/larkmoor-dental.json")["walls"][0]})
    assert answer.status_code == 200
    assert set(names_within(answer.json())) & MONEY_NAMES == set()


def test_an_owner_sees_what_an_estimator_sees(asker, estimator, dental):
    path = f"/api/jobs/{dental.key}/quote?today={DAY}"
    assert asker(Role.OWNER).get(path).json() == estimator.get(path).json()


@pytest.mark.parametrize("path", ["/api/jobs", "/api/jobs/J-1/takeoff", "/api/work-up", "/api/nowhere"])
def test_a_stranger_is_asked_for_a_token(path, db):
    answer = Asker().get(path)
    assert answer.status_code in (401, 405)
    assert path == "/api/work-up" or answer["WWW-Authenticate"].startswith("Bearer")
