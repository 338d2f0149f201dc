"""Payments pay the oldest request first; the rest is paid ahead."""

from datetime import date
from decimal import Decimal as D

from hypothesis import given
from hypothesis import strategies as st

from quoting.core.money.request_parts import Parts
from quoting.core.money.settling import CameIn, IssuedRequest, settle

DAY, DUE = date(2027, 4, 20), date(2027, 5, 4)


def request(number, total, due=DUE, **more):
    return IssuedRequest(number, DAY, due, "Boards up", Parts(D(total)), **more)


def came(row, amount, day=DAY):
    return CameIn(row, day, D(amount))


def test_a_payment_pays_the_oldest_request_first_and_then_the_next():
    result = settle([request(2, "50.00"), request(1, "30.00")], [came("a", "45.00")])
    assert [(status.request.number, status.state, status.open) for status in result.requests] == [
        (1, "paid", D("0.00")),
        (2, "part paid", D("35.00")),
    ]
    assert result.shares == {"a": ((1, D("30.00")), (2, D("15.00")))}


def test_what_is_over_all_requests_is_paid_ahead_and_pays_the_next_one():
    assert settle([request(1, "30.00")], [came("a", "45.00")]).ahead == D("15.00")
    assert settle([request(1, "30.00"), request(2, "20.00")], [came("a", "45.00")]).open == D("5.00")


def test_a_credited_request_asks_for_nothing_and_its_payment_pays_another():
    rows = [request(1, "30.00", credited_by=3), request(2, "20.00")]
    result = settle(rows, [came("a", "15.00")])
    assert [status.state for status in result.requests] == ["credited", "part paid"]
    assert (result.requested.total, result.open) == (D("20.00"), D("5.00"))


def test_what_a_request_gives_back_pays_the_others():
    assert settle([request(1, "30.00"), request(2, "-10.00")], []).open == D("20.00")


def test_a_request_is_overdue_the_day_after_it_was_due_and_while_money_is_open():
    result = settle([request(1, "30.00")], [])
    assert result.overdue(DUE) == () and [status.open for status in result.overdue(date(2027, 5, 5))] == [D("30.00")]
    assert settle([request(1, "30.00")], [came("a", "30.00")]).overdue(date(2027, 6, 1)) == ()


def test_cash_due_within_thirty_days_counts_what_is_overdue_and_leaves_out_what_comes_later():
    rows = [request(1, "30.00"), request(2, "20.00", due=date(2027, 6, 4)), request(3, "9.00", due=date(2027, 6, 5))]
    assert settle(rows, []).due_within(date(2027, 5, 5), 30) == D("50.00")


def test_what_is_billed_is_the_price_asked_with_what_is_held():
    # Deposit 4,920.00 and request 1: 7,380.00 less the deposit, 369.00 of it held.
    rows = [
        request(1, "4920.00"),
        IssuedRequest(2, DAY, DUE, "Boards up", Parts(D("2091.00"), D("172.51")), Parts(D("369.00"), D("30.44"))),
    ]
    assert settle(rows, []).billed == D("7380.00")


amounts = st.integers(1, 100_000).map(lambda whole: D(whole) / 100)


@given(st.lists(amounts, max_size=8), st.lists(amounts, max_size=8))
def test_what_is_paid_and_paid_ahead_is_what_came_in(wanted, paid):
    result = settle(
        [request(n, total) for n, total in enumerate(wanted, 1)], [came(str(n), entry) for n, entry in enumerate(paid)]
    )
    assert result.paid + result.ahead == sum(paid) and result.open + result.paid == sum(wanted)
    assert not (result.open and result.ahead)
