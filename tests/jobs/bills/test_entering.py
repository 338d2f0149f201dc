"""Bills entered, matched to what was ordered and received, accepted where they differ. The figures are the worked
job's of a hall."""

from decimal import Decimal

import pytest

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.request_keys import KeyUsedBefore
from catalog.models import Standard
from jobs.bills.models import AcceptedDifference, Bill, BillLine
from jobs.bills.services.bill_rows import bill_rows_of, ordered_freight_of, ordered_rows_of
from jobs.bills.services.differences import Differs
from jobs.core.costs.received_goods import received_not_billed
from tests.support.hall import DEARER, Hall, base_bill, boards_bill, entered, first_bill, own

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def hall():
    return Hall()


def complaint(document):
    with pytest.raises(DocumentError) as caught:
        entered(document)
    assert Bill.objects.count() == 0
    return str(caught.value)


def card(*lines, total, **more):
    about = {"request_key": "card", "shop": "Corner shop", "number": "4711", "day": "2026-10-02"}
    return {**about, "total": total, "lines": list(lines), **more}


def billed(job):
    return sum((row.amount for row in bill_rows_of([job.pk])[job.pk]), Decimal(0))


def test_a_bill_counts_for_each_of_its_jobs_with_its_share_of_the_freight(hall):
    entered(first_bill())
    # 558.00 + 742.50 + 73.28; 640.00 + 22.72
    assert (billed(hall.job), billed(hall.other)) == (Decimal("1373.78"), Decimal("662.72"))


def test_the_bills_of_the_hall_come_to_its_worked_sums(hall):
    entered(first_bill())
    entered(base_bill())
    entered(card(own("J-0201", "118.40"), total="118.40"))
    entered(card(own("J-0201", "165.00", category="other"), total="165.00", request_key="s88", number="S-88"))
    owed = [received_not_billed(row) for row in ordered_rows_of([hall.job.pk])[hall.job.pk]]
    assert (billed(hall.job), sum(owed)) == (Decimal("3704.18"), Decimal("458.40"))
    assert sum(freight.left for freight in ordered_freight_of([hall.job.pk])[hall.job.pk]) == Decimal("35.00")


def test_what_differs_is_listed_and_nothing_is_kept_until_it_is_accepted(hall):
    with pytest.raises(Differs) as caught:
        entered(boards_bill())
    assert (caught.value.sentences, Bill.objects.count()) == ((DEARER,), 0)
    entered(boards_bill(accept=[DEARER]))
    assert AcceptedDifference.objects.get().accepted_by_name == "I. Quarrell"


def test_accepting_another_sentence_accepts_nothing(hall):
    with pytest.raises(Differs):
        entered(boards_bill(accept=["Board, P-1: 458.40 for 24, 464.40 agreed."]))


def test_more_than_was_ordered_or_came_is_a_difference(hall):
    lines = [{"order": "P-1", "place": place, "quantity": count, "unit_price": price} for place, count, price in (
        (1, "13", "46.50"), (3, "30", "19.10"),
    )]  # fmt: skip
    with pytest.raises(Differs) as caught:
        entered(first_bill(lines=lines, freight="96.00", total="1273.50"))
    # 13 x 46.50 + 30 x 19.10 + 96.00 = 604.50 + 573.00 + 96.00
    assert caught.value.sentences == (
        "Track, P-1: 13 billed in all, 12 ordered.",
        "Board, P-1: 30 billed in all, 24 came good.",
    )


def test_freight_other_than_agreed_is_a_difference(hall):
    with pytest.raises(Differs, match=r"Freight, P-1: 99\.00 billed in all, 96\.00 agreed"):
        entered(first_bill(freight="99.00", total="2039.50"))


def test_a_line_without_an_agreed_price_is_a_difference(hall):
    type(hall.painter).objects.filter(pk=hall.painter.pk).update(amount=None, unit_price=None)
    lines = [{"order": "P-6", "place": 1, "quantity": "1", "amount": "1900.00"}]
    with pytest.raises(Differs, match=r"Painter, P-6: 1900\.00 for 1; no price was agreed"):
        entered(first_bill(lines=lines, freight="0", total="1900.00"))


def test_a_bill_of_an_order_that_was_called_off_says_so(hall):
    about = {"called_off_at": "2026-10-01T10:00Z", "called_off_by_name": "A", "called_off_reason": "Late"}
    type(hall.second).objects.filter(pk=hall.second.pk).update(state="called_off", **about)
    with pytest.raises(Differs, match="Base, P-2: the order is called off"):
        entered(base_bill(accept=[]))


def test_a_line_that_stands_for_damaged_goods_is_rework_and_its_freight_too(hall):
    lines = [{"order": "P-3", "place": 1, "quantity": "1", "amount": "0.00"}]
    accept = ["Base, P-3: 1 billed in all, 0 came good."]
    entered(base_bill(lines=lines, freight="35.00", total="35.00", accept=accept, number="B-2050"))
    assert [(row.tag, row.amount) for row in bill_rows_of([hall.job.pk])[hall.job.pk]] == [
        ("rework", Decimal("0.00")),
        ("rework", Decimal("35.00")),
    ]


def test_a_bill_sent_twice_is_kept_once(hall):
    first, second = entered(first_bill()), entered(first_bill())
    assert (first, Bill.objects.count(), BillLine.objects.count()) == (second, 1, 5)


@pytest.mark.parametrize(
    "other",
    [
        {"number": "A-772"},
        {"day": "2026-09-27"},
        {"note": "Another"},
        {"freight": "95.00", "tax": "1.00", "accept": ["Freight, P-1: 95.00 billed in all, 96.00 agreed."]},
    ],
)
def test_one_key_for_another_bill_is_refused(hall, other):
    entered(first_bill())
    with pytest.raises(KeyUsedBefore, match="another bill already") as caught:
        entered(first_bill(**other))
    assert (caught.value.status, Bill.objects.count()) == (409, 1)


@pytest.mark.parametrize("number", ["A-771", "a 771", "A771", " a\u2011771"])
def test_a_suppliers_number_stands_once_however_it_is_written(hall, number):
    entered(first_bill())
    with pytest.raises(DocumentError, match="number: A-771 of The yard, .* was entered by I. Quarrell"):
        entered(first_bill(number=number, request_key="again"))


def test_the_same_number_of_another_seller_or_a_credit_is_another_bill(hall):
    entered(card(own("J-0201", "5.00"), total="5.00"))
    entered(card(own("J-0201", "5.00"), total="5.00", shop="Other shop", request_key="2"))
    entered(card(own("J-0201", "5.00"), total="5.00", kind="credit", request_key="3"))
    with pytest.raises(DocumentError, match="number: 4711 of Corner shop"):
        entered(card(own("J-0201", "5.00"), total="5.00", shop="CORNER  shop", request_key="4"))
    assert Bill.objects.count() == 3


def test_a_bill_is_not_kept_while_something_is_left_to_place(hall):
    assert complaint(first_bill(total="2040.00")).endswith(
        "3.50 is left to place: lines, freight and tax are 2036.50, the total 2040.00"
    )
    assert "36.50 is too much on the lines" in complaint(first_bill(total="2000.00"))


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"currency": "EUR"}, "currency: EUR is another currency; enter what USD were paid for it"),
        ({"total": "NaN"}, "total: "),
        ({"total": "118.405"}, "total: '118.405' has more than 2 places"),
        ({"tax": "-1"}, "tax: '-1' is under zero"),
        ({"number": "\u00df" * 60}, "number: is longer than 60 characters in capitals"),
        ({"number": " - "}, "number: must hold a letter or a digit"),
        ({"day": "2026-10-06"}, "day: Tue 6 Oct 2026 has not come yet"),
        ({"due": "2026-10-01"}, "due: Thu 1 Oct 2026 is before Fri 2 Oct 2026"),
        ({"shop": ""}, "supplier: must be named, or the shop of a small purchase"),
        ({"supplier": "YARD"}, "supplier: must be named, or the shop of a small purchase; one of the two"),
        ({"supplier": "NOBODY", "shop": ""}, 'supplier: "NOBODY" is not a supplier in the catalog'),
        ({"freight_order": "P-99"}, 'freight_order: "P-99" is not a placed order'),
        ({"total": "10000000000.00"}, "total: 10000000000.00 is too large; an amount is at most 9999999999.99"),
        ({"tax": "999999999999"}, "tax: 999999999999.00 is too large"),
        ({"freight": "1e400"}, "freight: "),
        ({"kind": "invoice"}, 'kind: "invoice" is not one of bill, credit'),
    ],
)
def test_a_wrong_entry_is_named_with_its_reason(hall, wrong, message):
    assert message in complaint(card(own("J-0201", "118.40"), total="118.40") | wrong)


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"job": "J-0999"}, 'lines[0].job: "J-0999" is not a job'),
        ({"category": "freight"}, 'lines[0].category: "freight" is not one of'),
        ({"category": None}, "lines[0].category: is missing"),
        ({"tag": "late late"}, 'lines[0].tag: "late late" is not one of'),
        ({"amount": "NaN"}, "lines[0].amount: "),
        ({"amount": "1.005"}, "lines[0].amount: '1.005' has more than 2 places"),
        ({"amount": None}, "lines[0].amount: is missing"),
        ({"quantity": "0"}, "lines[0].quantity: 0 is not a quantity"),
        ({"quantity": "9", "unit_price": "218", "amount": "1960"}, "1960.00 is not 9 at 218, which is 1962.00"),
        ({"amount": "99999999999"}, "lines[0].amount: 99999999999.00 is too large"),
        ({"quantity": "1000000", "unit_price": "10000000", "amount": None}, "lines[0].amount: 1000000 at 10000000 is"),
        ({"quantity": "0.000001", "amount": "900.00"}, "lines[0].quantity: 0.000001 makes one cost 900000000.00"),
        ({"quantity": "0.0000001"}, "lines[0].quantity: 0 is not a quantity"),
        ({"receipt": 1}, "lines[0].receipt: is settled by a credit; this is a bill"),
        ({"order": "P-1", "place": 1}, "lines[0].order: P-1 went to The yard"),
        ({"order": "P-99", "place": 1}, "lines[0].place: 1 is not a line of a placed order P-99"),
        ({"item": "x" * 201}, "lines[0].item: is 201 characters long"),
    ],
)
def test_a_wrong_line_is_named_with_its_reason(hall, wrong, message):
    line = {name: value for name, value in (own("J-0201", "5.00") | wrong).items() if value is not None}
    assert message in complaint(card(line, total="5.00"))


def test_a_line_may_not_say_otherwise_than_its_order(hall):
    lines = [{"order": "P-1", "place": 1, "quantity": "12", "amount": "558.00", "job": "J-0202"}]
    message = complaint(first_bill(lines=lines, freight="96.00", total="654.00"))
    assert 'lines[0].job: "J-0202" is not what the order says: J-0201' in message


def test_what_is_for_no_job_is_overhead(hall):
    entered(card({"what": "Rent", "amount": "900.00"}, own("J-0201", "5.00"), total="905.00"))
    assert [(row.category, row.job_id) for row in BillLine.objects.all()] == [
        ("overhead", None),
        ("materials", hall.job.pk),
    ]


def test_freight_without_an_order_goes_by_the_lines_of_the_bill(hall):
    entered(card(own("J-0201", "30.00"), own("J-0202", "10.00"), total="44.00", freight="4.00"))
    # 4.00 x 30 / 40 = 3.00
    assert (billed(hall.job), billed(hall.other)) == (Decimal("33.00"), Decimal("11.00"))


def test_a_carriers_bill_names_the_order_it_brought(hall):
    entered(card(total="96.00", freight="96.00", freight_order="P-1"))
    assert (billed(hall.job), billed(hall.other)) == (Decimal("73.28"), Decimal("22.72"))
    assert ordered_freight_of([hall.job.pk])[hall.job.pk][0].left == 0


def test_tax_the_firm_reclaims_is_no_cost_and_other_tax_is(hall):
    lines = own("J-0201", "60.00"), own("J-0202", "40.00")
    entered(card(*lines, total="108.25", tax="8.25"))
    assert billed(hall.job) == Decimal("60.00")
    Standard.objects.create(name="reclaimed_tax_share", value="0", source="Local law", sure="firm")
    entered(card(*lines, total="108.25", tax="8.25", request_key="2", number="4712"))
    # 8.25 x 0.6 = 4.95; the rest is 3.30
    assert (billed(hall.job), billed(hall.other)) == (Decimal("124.95"), Decimal("83.30"))


def test_a_long_name_of_goods_is_cut_in_what_differs(hall):
    type(hall.lines["BOARD"]).objects.filter(pk=hall.lines["BOARD"].pk).update(what="x" * 500)
    with pytest.raises(Differs) as caught:
        entered(boards_bill())
    bill = entered(boards_bill(accept=list(caught.value.sentences)))
    assert len(bill.accepted.get().sentence) < 300
