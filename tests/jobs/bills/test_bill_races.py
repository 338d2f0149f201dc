"""Two people at one bill: one key is one bill, a number stands once, a voided bill is voided once. With controls."""

import threading

import pytest

from catalog.core.ground.document_reader import DocumentError
from jobs.bills.models import Bill, BillLine
from jobs.bills.services import entering
from jobs.bills.services.differences import Differs
from tests.support.hall import Hall, base_bill, boards_bill, entered, first_bill, own, voided
from tests.support.racing import ROUNDS, at_once
from tests.support.racing import emptied as emptied

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]


@pytest.fixture
def hall(emptied):
    return Hall()


def purchase(number, key):
    lines = [own("J-0201", "5.00")]
    return lambda: entered(first_bill(lines=lines, freight="0", total="5.00", number=number, request_key=key))


def test_one_key_sent_twice_at_once_is_one_bill(hall):
    for turn in range(ROUNDS):
        gave = at_once(*[purchase(f"N-{turn}", f"k{turn}")] * 2)
        assert gave[0] == gave[1], gave
        assert Bill.objects.count() == BillLine.objects.count() == turn + 1


def test_one_number_entered_by_two_is_entered_once(hall):
    for turn in range(ROUNDS):
        gave = at_once(purchase(f"N-{turn}", f"a{turn}"), purchase(f"n {turn}", f"b{turn}"))
        sentences = [str(error) for error in gave if isinstance(error, DocumentError)]
        assert len(sentences) == 1 and sentences[0].startswith("number: "), gave
        assert Bill.objects.count() == turn + 1


def boards(key):
    return lambda: entered(
        boards_bill(
            number=key,
            request_key=key,
            total="458.40",
            lines=[{"order": "P-1", "place": 3, "quantity": "24", "unit_price": "19.10"}],
        )
    )


def test_of_two_who_bill_the_same_goods_the_second_is_told(hall):
    for turn in range(ROUNDS):
        gave = at_once(boards(f"a{turn}"), boards(f"b{turn}"))
        assert [isinstance(entry, Differs) for entry in gave].count(True) == 1, gave
        voided(next(bill for bill in gave if isinstance(bill, Bill)))


def test_without_the_order_held_the_goods_are_billed_twice_unseen(hall, monkeypatch):
    """The control: both look before either writes."""
    meeting = threading.Barrier(2)

    def seen_together(entry, look=entering.refuse_unaccepted):
        result = look(entry)
        meeting.wait(20)
        return result

    monkeypatch.setattr(entering, "_hold", lambda entry: None)
    monkeypatch.setattr(entering, "refuse_unaccepted", seen_together)
    assert all(isinstance(entry, Bill) for entry in at_once(boards("a"), boards("b")))


def test_a_bill_voided_by_two_at_once_is_voided_once(hall):
    for turn in range(ROUNDS):
        bill = entered(base_bill(request_key=f"k{turn}"))
        at_once(lambda: voided(bill, "One"), lambda: voided(bill, "Two"))  # noqa: B023
        bill.refresh_from_db()
        assert (bill.version, bill.void_reason in ("One", "Two")) == (2, True)
