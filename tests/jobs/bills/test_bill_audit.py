"""The audit of bills: a total or a credit that is not what its lines say is named."""

import pytest

from jobs.bills.models import Bill
from quoting.service.audit.bill_audit import bills_add_up, credits_are_what_their_lines_say
from tests.support.hall import NOW, Hall, base_bill, credit_note, entered, first_bill, voided
from tests.support.months import close

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


def test_bills_credits_and_what_takes_them_back_add_up(db):
    hall = Hall()
    bill = entered(first_bill())
    entered(base_bill())
    entered(credit_note(receipt=hall.damaged.pk))
    close("2026-09")
    voided(bill)
    assert [*bills_add_up(NOW), *credits_are_what_their_lines_say(NOW)] == []


def test_a_total_and_a_credit_changed_by_hand_are_named(db):
    hall = Hall()
    bill = entered(first_bill())
    entered(credit_note(receipt=hall.damaged.pk))
    Bill.objects.filter(pk=bill.pk).update(total="2036.51")
    type(hall.damaged).objects.filter(pk=hall.damaged.pk).update(credited="200.00")
    assert list(bills_add_up(NOW)) == [
        "Bill A-771 of The yard: lines, freight and tax are 2036.50, but the total is 2036.51."
    ]
    assert list(credits_are_what_their_lines_say(NOW)) == [
        f"receipt {hall.damaged.pk}: 200.00 is credited, but its credits come to 218.00."
    ]
