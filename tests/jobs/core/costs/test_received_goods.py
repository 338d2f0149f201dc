"""Goods received and not billed, and what is still to come, as the worked job of a hall has them."""

from decimal import Decimal

from catalog.core.ground.money import to_cents
from jobs.core.costs.bills import freight_shares, left_to_place, number_key
from jobs.core.costs.received_goods import (
    OrderedFreight,
    OrderedRow,
    committed,
    freight_committed,
    freight_received,
    line_price,
    received_not_billed,
)


def row(ordered: str, received: str, billed: str, price: str | None, *, ended: bool = False) -> OrderedRow:
    figures = Decimal(ordered), Decimal(received), Decimal(billed)
    known = None if price is None else Decimal(price)
    return OrderedRow("1", "P", "X", "x", "materials", *figures, Decimal(0), known, "order", ended, False)


def freight(amount: str, *, come: bool = False, billed: str = "0.00", called_off: bool = False) -> OrderedFreight:
    return OrderedFreight("P", Decimal(amount), come, Decimal(billed), called_off)


def test_freight_of_two_jobs_goes_by_line_value_and_the_last_takes_the_cent():
    # 96.00 x 2,064.50 / 2,704.50 = 73.282 -> 73.28; the rest is 22.72.
    shares = freight_shares(Decimal("96.00"), [Decimal("2064.50"), Decimal("640.00")])
    assert shares == (Decimal("73.28"), Decimal("22.72"))
    # 10.00 / 3 = 3.333: each rounded is 3.33, the last takes 3.34.
    assert freight_shares(Decimal("10.00"), [Decimal(1)] * 3)[-1] == Decimal("3.34")


def test_an_order_without_values_shares_its_freight_evenly():
    assert freight_shares(Decimal("35.00"), [Decimal(0)]) == (Decimal("35.00"),)


def test_boards_that_came_without_a_bill_count_and_the_rest_is_committed():
    # 24 x 19.10 = 458.40; (40 - 24) x 19.10 = 305.60
    boards = row("40", "24", "0", "19.10")
    assert (received_not_billed(boards), committed(boards)) == (Decimal("458.40"), Decimal("305.60"))


def test_a_damaged_length_that_is_billed_is_neither_owed_nor_committed():
    base = row("9", "8", "9", "218.00")
    assert (received_not_billed(base), committed(base)) == (0, 0)


def test_what_the_hall_has_on_order_comes_to_its_committed_sum():
    # boards 305.60, freight of the length again 35.00, niche goods 352.00, painter 1,900.00 = 2,592.60
    lines = [
        row("40", "24", "0", "19.10"),
        row("1", "0", "0", "0"),
        row("1", "0", "0", "352"),
        row("1", "0", "0", "1900"),
    ]
    together = sum(committed(line) for line in lines) + freight_committed(freight("35.00"))
    assert together == Decimal("2592.60")


def test_goods_without_a_price_are_a_gap_and_not_nought():
    assert received_not_billed(row("4", "4", "0", None)) is None
    assert received_not_billed(row("4", "0", "0", None)) == 0


def test_an_ended_line_commits_nothing_and_what_came_of_it_is_owed():
    ended = row("10", "4", "0", "5.00", ended=True)
    assert (received_not_billed(ended), committed(ended)) == (Decimal("20.00"), 0)


def test_freight_is_committed_then_received_then_billed():
    assert (freight_committed(freight("96.00")), freight_received(freight("96.00"))) == (Decimal("96.00"), 0)
    came = freight("96.00", come=True)
    assert (freight_committed(came), freight_received(came)) == (0, Decimal("96.00"))
    assert freight_received(freight("96.00", come=True, billed="96.00")) == 0
    assert freight_committed(freight("96.00", called_off=True)) == 0


def test_the_price_is_the_bills_else_the_confirmations_else_the_orders():
    confirmed, ordered = Decimal("19.35"), Decimal("19.10")
    # 464.40 / 24 = 19.35
    assert line_price(Decimal(24), Decimal("464.40"), None, ordered) == (Decimal("19.35"), "bill")
    assert line_price(Decimal(0), Decimal(0), confirmed, ordered) == (confirmed, "confirmation")
    assert line_price(Decimal(0), Decimal(0), None, ordered) == (ordered, "order")
    assert line_price(Decimal(0), Decimal(0), None, None) == (None, "no price")


def test_a_third_of_a_hundred_is_priced_without_losing_a_cent():
    price, _ = line_price(Decimal(0), Decimal(0), None, Decimal(100) / 3)
    assert to_cents(3 * price) == Decimal("100.00")


def test_a_number_is_the_same_without_spaces_hyphens_and_case():
    assert number_key(" b 20-41") == number_key("B2041") == number_key("b\u201320\u201341") == "B2041"


def test_a_bill_is_placed_when_nothing_of_its_total_is_left():
    lines = [Decimal("558.00"), Decimal("742.50"), Decimal("640.00")]
    # 558.00 + 742.50 + 640.00 + 96.00 = 2,036.50
    assert left_to_place(Decimal("2036.50"), lines, Decimal("96.00"), Decimal("0.00")) == 0
    assert left_to_place(Decimal("2040.00"), lines, Decimal("96.00"), Decimal("0.00")) == Decimal("3.50")
