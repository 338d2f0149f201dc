"""Credits and voided bills: each counts once, and fills or frees what it settles."""

from decimal import Decimal

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.bills.models import Bill
from jobs.bills.services.agreed_credits import agreed_credits_of
from jobs.bills.services.bill_rows import bill_rows_of, ordered_rows_of
from jobs.bills.services.differences import Differs
from jobs.bills.services.listing import to_credit
from jobs.core.costs.received_goods import received_not_billed
from jobs.deliveries.models import ReturnedGoods
from tests.factories.orders import BY, NOON
from tests.support.hall import CAME, Hall, base_bill, credit_note, entered, first_bill, voided
from tests.support.months import close

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def hall():
    return Hall()


def row_of(hall, item, order):
    return next(row for row in ordered_rows_of([hall.job.pk])[hall.job.pk] if (row.order, row.item) == (order, item))


def sent_back(hall, quantity=1, expected=None):
    about = {"sent_on": CAME, "reason": "Too many", "entered_at": NOON, "entered_by_name": BY}
    line = hall.lines["BASE"]
    return ReturnedGoods.objects.create(
        line=line, request_key="r", quantity=quantity, credit_expected=expected, **about
    )


def billed(hall):
    return sum((row.amount for row in bill_rows_of([hall.job.pk])[hall.job.pk]), Decimal(0))


def test_a_credit_for_a_damaged_length_takes_it_out_of_what_is_billed(hall):
    entered(base_bill())
    entered(credit_note(receipt=hall.damaged.pk))
    row = row_of(hall, "BASE", "P-2")
    # 9 - 1 lengths, 1,962.00 - 218.00
    assert (row.billed, row.billed_amount, received_not_billed(row)) == (8, Decimal("1744.00"), 0)


def test_a_credit_fills_what_was_credited_of_its_receipt_or_return(hall):
    back = sent_back(hall)
    entered(credit_note(receipt=hall.damaged.pk))
    entered(credit_note(returned=back.pk) | {"request_key": "c2", "number": "C-2"})
    hall.damaged.refresh_from_db()
    back.refresh_from_db()
    assert (hall.damaged.credited, back.credited) == (Decimal("218.00"), Decimal("218.00"))
    assert str(back.credited_on) == "2026-10-01"


def test_a_credit_over_what_it_settles_is_refused(hall):
    with pytest.raises(DocumentError, match=r"lines\[0\].amount: 218.01 is over the 218.00 that it settles"):
        entered(credit_note("218.01", receipt=hall.damaged.pk))
    back = sent_back(hall, expected="200.00")
    with pytest.raises(DocumentError, match=r"218.00 is over the 200.00"):
        entered(credit_note(returned=back.pk))


def test_two_credits_together_may_not_go_over_what_they_settle(hall):
    entered(credit_note("200.00", receipt=hall.damaged.pk))
    with pytest.raises(DocumentError, match=r"300.00 is over the 218.00"):
        entered(credit_note("100.00", receipt=hall.damaged.pk) | {"request_key": "c2", "number": "C-2"})


def test_less_than_was_agreed_is_a_difference(hall):
    type(hall.damaged).objects.filter(pk=hall.damaged.pk).update(outcome="credited", outcome_on=CAME, credit="200.00")
    with pytest.raises(Differs, match=r"Base, P-2: 150.00 credited in all, 200.00 agreed"):
        entered(credit_note("150.00", receipt=hall.damaged.pk))


def test_a_credit_that_settles_nothing_lowers_the_price_alone(hall):
    entered(base_bill())
    entered(credit_note("18.00", order="P-2", place=1))
    row = row_of(hall, "BASE", "P-2")
    # (1,962.00 - 18.00) / 9 = 216.00
    assert (row.billed, row.price) == (9, Decimal("216.00"))


def test_a_credit_of_the_price_may_not_go_over_what_was_billed(hall):
    with pytest.raises(DocumentError, match=r"18.00 is over the 0.00 that it settles"):
        entered(credit_note("18.00", order="P-2", place=1))


def test_what_is_another_suppliers_is_not_settled(hall):
    with pytest.raises(DocumentError, match=r"lines\[0\].receipt: .* is nothing of this supplier's"):
        entered(credit_note(receipt=hall.damaged.pk) | {"supplier": "YARD"})


def test_a_voided_bill_counts_for_nothing_and_its_number_may_come_again(hall):
    bill = entered(base_bill())
    voided(bill)
    assert (billed(hall), row_of(hall, "BASE", "P-2").billed) == (0, 0)
    again = entered(base_bill(request_key="b2041 again"))
    assert (again.again, billed(hall)) == (1, Decimal("2047.00"))
    with pytest.raises(DocumentError, match="number: B-2041 of Mill"):
        entered(base_bill(request_key="third"))


def test_a_voided_credit_frees_what_it_settled(hall):
    voided(entered(credit_note(receipt=hall.damaged.pk)))
    hall.damaged.refresh_from_db()
    assert (hall.damaged.credited, hall.damaged.credited_on) == (None, None)


def test_voiding_twice_is_voiding_once_and_says_by_whom(hall):
    bill = entered(first_bill())
    voided(bill)
    row = voided(bill, "Another reason")
    assert (row.voided_by_name, row.void_reason, row.version) == ("I. Quarrell", "Entered twice", 2)


def test_a_bill_somebody_changed_since_is_not_voided(hall):
    bill = entered(first_bill())
    bill.version = 7
    with pytest.raises(Refused, match="changed this bill since"):
        voided(bill)


def test_voiding_asks_for_a_reason(hall):
    with pytest.raises(DocumentError, match="reason: must not be empty"):
        voided(entered(first_bill()), " ")


def test_a_bill_of_a_closed_month_is_taken_back_in_the_first_open_one(hall):
    bill = entered(base_bill())
    close("2026-09")
    row = voided(bill)
    back = Bill.objects.get(reverses=bill)
    assert (row.state, row.voided_at, str(back.posted_month)) == ("voided", None, "2026-10-01")
    assert (billed(hall), row_of(hall, "BASE", "P-2").billed) == (0, 0)
    assert [(line.amount, line.tag) for line in back.lines.all()] == [
        (Decimal("-1962.00"), ""),
        (Decimal("-85.00"), ""),
    ]


def test_a_number_taken_back_may_come_again_and_counts_in_the_open_month(hall):
    bill = entered(base_bill())
    close("2026-09")
    voided(bill)
    again = entered(base_bill(request_key="anew"))
    assert (str(again.posted_month), again.again, billed(hall)) == ("2026-10-01", 1, Decimal("2047.00"))


def test_what_takes_a_bill_back_is_not_voided_itself(hall):
    bill = entered(base_bill())
    close("2026-09")
    voided(bill)
    with pytest.raises(Refused, match="reverses another bill"):
        voided(Bill.objects.get(reverses=bill))


def test_a_bill_that_comes_after_its_month_was_closed_counts_in_the_next(hall):
    close_from = entered(base_bill())
    close("2026-09")
    bill = entered(first_bill())
    assert (str(bill.day), str(bill.posted_month), str(close_from.posted_month)) == (
        "2026-09-28",
        "2026-10-01",
        "2026-09-01",
    )


def test_a_credit_that_was_agreed_is_shown_until_it_is_in(hall):
    def due():
        return [(credit.order, credit.amount) for credit in agreed_credits_of([hall.job.pk])[hall.job.pk]]

    type(hall.damaged).objects.filter(pk=hall.damaged.pk).update(outcome="credited", outcome_on=CAME, credit="200.00")
    sent_back(hall, expected="218.00")
    assert due() == [("P-2", Decimal("200.00")), ("P-2", Decimal("218.00"))]
    accept = {"accept": ["Base, P-2: 150.00 credited in all, 200.00 agreed."]}
    entered(credit_note("150.00", receipt=hall.damaged.pk) | accept)
    assert due()[0] == ("P-2", Decimal("50.00"))


def test_what_a_voided_credit_settled_is_offered_again(hall):
    back = sent_back(hall)
    credit = entered(credit_note(returned=back.pk))
    assert to_credit(hall.mill)[1] == []
    voided(credit)
    assert to_credit(hall.mill)[1] == [back]
