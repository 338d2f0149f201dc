"""How figures of a work-up are written on papers and pages: days, money, shares, addresses."""

from decimal import Decimal
from fractions import Fraction

from babel.numbers import format_currency, format_decimal, get_decimal_symbol, get_group_symbol
from django.conf import settings

from catalog.core.ground.day_words import day_words as day_words
from catalog.core.ground.day_words import with_day_words as with_day_words
from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import plain
from catalog.core.ground.typed_marks import MoneyMarks


def money_words(amount: Decimal, currency: str) -> str:
    """The currency's code and the amount as the firm's place writes it; two places whatever the currency."""
    pattern, locale = "¤¤ #,##0.00", settings.MONEY_LOCALE
    return format_currency(to_cents(amount), currency, pattern, locale=locale, currency_digits=False)


def amount_words(amount: Decimal) -> str:
    """For columns that name the currency once."""
    return format_decimal(to_cents(amount), "#,##0.00", locale=settings.MONEY_LOCALE)


def printed_marks(currency: str) -> MoneyMarks:
    """The marks in `money_words` and `amount_words`, for reading such an amount back."""
    place = settings.MONEY_LOCALE
    return MoneyMarks(currency, get_decimal_symbol(place), get_group_symbol(place))


def share_words(share: Decimal | Fraction) -> str:
    """A share as a percentage, or as the fraction it was given as when no short percentage is exact."""
    percent = share * 100
    if isinstance(percent, Fraction):
        return f"{percent.numerator} %" if percent.denominator == 1 else str(share)
    return f"{plain(percent)} %"
