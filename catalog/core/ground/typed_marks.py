"""The marks in a typed figure: commas and points, fraction signs, and the sign of a currency."""

from __future__ import annotations

import re
from dataclasses import dataclass

from catalog.core.ground.refusal import InvalidValue

CURRENCY_SIGNS = {
    **dict.fromkeys(("USD", "CAD", "AUD", "NZD", "MXN", "SGD", "HKD"), "$"),
    "EUR": "€",
    "GBP": "£",
    "JPY": "¥",
    "CNY": "¥",
    "INR": "₹",
    "ILS": "₪",
    "KRW": "₩",
    "PLN": "zł",
    **dict.fromkeys(("SEK", "NOK", "DKK", "ISK"), "kr"),
}
_FRACTION_SIGNS = {
    "½": "1/2",
    "⅓": "1/3",
    "⅔": "2/3",
    "¼": "1/4",
    "¾": "3/4",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅐": "1/7",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅑": "1/9",
    "⅒": "1/10",
}
_FRACTION_RE = re.compile(rf"(?P<whole>[0-9])?(?P<gap>[ ]*-?[ ]*)(?P<sign>[{''.join(_FRACTION_SIGNS)}])")
_FIGURE_RE = re.compile(r"[0-9][0-9.,]*")
_GROUPED = r"[1-9][0-9]{0,2}(?:%s[0-9]{3})+"
_POINT_AFTER_GROUPS = re.compile(_GROUPED % "," + r"(?:,[0-9]{3}|\.[0-9]+)")
_COMMA_AFTER_GROUPS = re.compile(rf"(?:[0-9]+|{_GROUPED % '[.]'}),[0-9]+")
_TWO_WAYS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_ANY_CURRENCY = re.compile(rf"[A-Z]{{3}}|[{''.join(sign for sign in CURRENCY_SIGNS.values() if len(sign) == 1)}]")
_SPACES = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2009": " ", "\u2212": "-"})
_DIRECTION_MARKS = str.maketrans("", "", "\u200e\u200f\u061c")


class MarksError(InvalidValue):
    """Marks that can be read in two ways or in none; the message says what would be right."""


@dataclass(frozen=True)
class MoneyMarks:
    """How a firm's amounts are printed. currency: its code, "" where none is known. decimal, group: the marks."""

    currency: str = ""
    decimal: str = "."
    group: str = ","


PLAIN_MARKS = MoneyMarks()


def with_plain_fractions(text: str) -> str:
    """The signs ½, ¼, ⅜ and their like written out.

    >>> with_plain_fractions("6½"), with_plain_fractions("⅜"), with_plain_fractions("12' 6 ¼")
    ('6-1/2', '3/8', "12' 6-1/4")
    """

    def written(match: re.Match[str]) -> str:
        fraction = _FRACTION_SIGNS[match["sign"]]
        return f"{match['whole']}-{fraction}" if match["whole"] else match["gap"] + fraction

    return _FRACTION_RE.sub(written, text.replace("\u2044", "/"))


def with_plain_points(text: str, *, metric: bool) -> str:
    """A length with points for decimals and nothing between thousands.

    Args:
        text: as typed. metric: whether it is in mm, cm or m, where a comma may stand for the decimal point.

    Returns:
        The same figures, each comma read in the one way it can be read.

    Raises:
        MarksError: a comma that could be either, such as "3,810", or is neither.

    >>> with_plain_points("3,81 m", metric=True), with_plain_points("1,234.5 in", metric=False)
    ('3.81 m', '1234.5 in')
    """

    def plain(match: re.Match[str]) -> str:
        figure = match[0]
        if "," not in figure or _POINT_AFTER_GROUPS.fullmatch(figure):
            return figure.replace(",", "")
        as_point = figure.replace(".", "").replace(",", ".")
        if metric and _COMMA_AFTER_GROUPS.fullmatch(figure) and not _TWO_WAYS.fullmatch(figure):
            return as_point
        ways = [way for way in (as_point, figure.replace(",", "")) if way.count(".") <= 1]
        raise MarksError(f"{figure!r} has a comma that could mean two things; type {' or '.join(ways)}")

    return _FIGURE_RE.sub(plain, text)


def plain_amount(text: str, marks: MoneyMarks) -> str:
    """An amount as the firm prints it, with a point for decimals and nothing else but digits and its sign.

    Args:
        text: as typed, such as "$5,213.80", "USD 5,213.80", "5,213.80" or "5213.80". marks: the firm's.

    Returns:
        Such as "5213.80". What is no amount is left to be refused by who reads the number.

    Raises:
        MarksError: marks between thousands that stand elsewhere, a decimal comma where points are printed, or another
            currency.

    >>> plain_amount("$5,213.80", MoneyMarks("USD")), plain_amount("5.213,80", MoneyMarks("EUR", ",", "."))
    ('5213.80', '5213.80')
    """
    cleaned = _without_currency(text.translate(_DIRECTION_MARKS).translate(_SPACES).strip(), marks.currency)
    if _ANY_CURRENCY.search(cleaned):
        wanted = f"in {marks.currency} " if marks.currency else ""
        raise MarksError(f"{text!r} names another currency; type the amount {wanted}alone, like 1250.50")
    group = marks.group.translate(_SPACES)
    cleaned = cleaned.replace("’", "'") if group in ("’", "'") else cleaned
    group = "'" if group == "’" else group
    grouped = re.fullmatch(rf"(-?){_GROUPED % re.escape(group)}(?:{re.escape(marks.decimal)}[0-9]*)?", cleaned)
    if grouped is not None:
        cleaned = cleaned.replace(group, "")
    if marks.decimal != "." and cleaned.count(marks.decimal) == 1 and "." not in cleaned:
        return cleaned.replace(marks.decimal, ".")
    if "," in cleaned and re.fullmatch(r"-?[0-9.,]+", cleaned):
        wanted = f"1{marks.group}250{marks.decimal}50"
        raise MarksError(f"{text!r} has a comma where none belongs; type it like {wanted} or 1250.50")
    return cleaned


def _without_currency(text: str, currency: str) -> str:
    names = [name for name in (currency, CURRENCY_SIGNS.get(currency, "")) if name]
    if not names:
        return text
    either = "|".join(re.escape(name) for name in names)
    match = re.fullmatch(rf"(?P<minus>-?)[ ]*(?:(?:{either})[ ]*(?P<last>.*)|(?P<first>.*?)[ ]*(?:{either}))", text)
    if match is None:
        return text
    figure = match["last"] if match["last"] is not None else match["first"]
    return f"{match['minus']}{figure}"
