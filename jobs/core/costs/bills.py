"""Bills as plain rows of one job, the number a bill is known by, and freight shared over jobs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.money import split_by_shares

NOTHING = Decimal("0.00")


@dataclass(frozen=True)
class BillRow:
    """One line of an entered bill, as it counts for one job; of a credit under zero.

    row: id of the bill and place of the line, such as `12/3`. bill: its number. supplier: name of the supplier or the
    shop. category: materials, labour, subcontract, other, or freight: this job's share of the bill's freight. item: key
    of a step, code of a material or name of a lump; empty where none is known. quantity: 0 on a credit of the price
    alone. amount: in whole cents, with tax the firm cannot reclaim. order_line: `OrderedRow.row` of the line it is
    matched to.
    """

    row: str
    bill: str
    supplier: str
    day: date
    category: str
    item: str
    what: str
    quantity: Decimal
    unit_price: Decimal
    amount: Decimal
    tag: str = ""
    order_line: str | None = None


@dataclass(frozen=True)
class AgreedCredit:
    """A credit the supplier agreed to and that is not in yet: shown, and not counted. amount: still open, over zero.

    row: of what it settles, `receipt 7` or `returned 3`. item: code of the material.
    """

    row: str
    order: str
    item: str
    what: str
    amount: Decimal


def number_key(number: str) -> str:
    """What two writings of one bill number have in common.

    number: as printed. Returns it without spaces, hyphens and case; empty where nothing else is in it. Raises nothing.
    Source: own rule.

    >>> number_key("a - 771"), number_key("A-771")
    ('A771', 'A771')
    """
    return "".join(letter for letter in number if not letter.isspace() and letter not in HYPHENS).upper()


HYPHENS = "-\u00ad\u2010\u2011\u2012\u2013\u2014\u2212"


def freight_shares(freight: Decimal, values: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Freight of an order or a bill over its jobs, by the value of their lines.

    Args:
        freight: in whole cents, any sign. values: of each job's lines in money, one or more, each zero or more, the
            jobs in the order of their first lines. Where all are zero each job takes the same.

    Returns:
        One amount a job, in whole cents, adding up to the freight: each is rounded, the last takes the cent.

    Raises:
        MoneyError: no values, one under zero, or a part of a cent.

    Source: own rule.

    >>> [str(one) for one in freight_shares(Decimal("96.00"), [Decimal("2064.50"), Decimal("640.00")])]
    ['73.28', '22.72']
    """
    together = sum(values, Decimal(0))
    weights = (
        [Fraction(value) / Fraction(together) for value in values]
        if together
        else [Fraction(1, len(values))] * len(values)
    )
    return split_by_shares(freight, weights)


def left_to_place(total: Decimal, lines: Iterable[Decimal], freight: Decimal, tax: Decimal) -> Decimal:
    """What of a bill's total stands on no line yet; a bill can be entered where this is nought.

    Amounts as printed, in whole cents. Raises nothing. Source: own rule.

    >>> left_to_place(Decimal("139.40"), [Decimal("100.00"), Decimal("18.40")], Decimal("12.00"), Decimal("9.00"))
    Decimal('0.00')
    """
    return total - sum(lines, NOTHING) - freight - tax
