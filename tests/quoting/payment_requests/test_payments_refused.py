"""Payments that cannot be, and a request over the contract: refused, with the field and the reason."""

from decimal import Decimal

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from quoting.payment_requests.models import PaymentReceived, PaymentRequest
from tests.support.asked import ask, asked, hall

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
KEY = "/api/jobs/J-0100/payments"
ALL = ("deposit", "instalment 0", "instalment 1", "instalment 2", "instalment 3", "release")


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"amount": "0"}, "is not a payment; it is more than zero"),
        ({"amount": "0.00"}, "is not a payment; it is more than zero"),
        ({"amount": "-1.00"}, "amount"),
        ({"amount": "NaN"}, "amount"),
        ({"amount": "1.005"}, "more than 2 places"),
        ({"amount": "EUR 5.00"}, "amount"),
        ({"currency": "EUR"}, "currency"),
        ({"received_on": "2999-01-01"}, "received_on"),
    ],
)
def test_a_payment_that_cannot_be_names_its_field_and_is_not_kept(office, wrong, says):
    hall()
    answer = office.post(KEY, {"request_key": "p", "amount": "100.00", **wrong})
    assert answer.status_code == 400 and not PaymentReceived.objects.exists()
    ((path, reason),) = [(entry["path"], entry["reason"]) for entry in answer.json()["errors"]]
    assert path == next(iter(wrong)) and says in f"{path} {reason}"


def test_a_payment_sent_twice_is_one_and_another_under_its_key_a_conflict(office):
    hall()
    sent = {"request_key": "p", "amount": "100.00"}
    assert [office.post(KEY, sent).status_code for _ in range(2)] == [201, 200]
    assert office.post(KEY, sent | {"amount": "200.00"}).status_code == 409
    assert PaymentReceived.objects.get().amount == Decimal("100.00")


def test_nothing_is_asked_for_over_the_contract():
    job = hall()
    asked(job, *ALL)
    for part in (*ALL, "notes"):
        with pytest.raises((Refused, DocumentError)):
            ask(job, part, key=f"again {part}")
    # The contract and its tax: 24,600.00 + 2,029.50.
    assert sum(row.to_pay.total for row in PaymentRequest.objects.all()) == Decimal("26629.50")
