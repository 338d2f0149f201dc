from decimal import Decimal
from fractions import Fraction

from quoting.core.money.quotes_out import CountAndValue, DecidedQuote, won_and_lost

FIVE = [
    DecidedQuote(Decimal("8000.00")),
    DecidedQuote(Decimal("2000.00")),
    DecidedQuote(Decimal("1000.00"), "Lost to price"),
    DecidedQuote(Decimal("5000.00"), "No answer"),
    DecidedQuote(Decimal("4000.00"), "Lost to price"),
]


def test_won_and_lost_are_told_by_count_and_value_with_the_reasons():
    lost = won_and_lost(FIVE)
    assert (lost.won, lost.lost) == (CountAndValue(2, Decimal("10000.00")), CountAndValue(3, Decimal("10000.00")))
    assert [(why, value.count, value.value) for why, value in lost.reasons] == [
        ("Lost to price", 2, Decimal("5000.00")),
        ("No answer", 1, Decimal("5000.00")),
    ]


def test_a_share_is_told_from_five_decided_quotes_on():
    five, four = won_and_lost(FIVE), won_and_lost(FIVE[1:])
    assert (five.rate, five.rate_by_value) == (Fraction(2, 5), Fraction(1, 2))
    assert (four.rate, four.rate_by_value) == (None, None)
