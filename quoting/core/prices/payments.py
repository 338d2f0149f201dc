"""When the client pays: the deposit by its rule, and instalments that add up to the total."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

from catalog.core.ground.declared import Amount, As, Money, Text, View
from catalog.core.ground.money import split_by_shares, to_cents
from quoting.core.prices.figures import PricingError, check_between, check_cents, percent_words
from quoting.core.prices.stated_figures import Share


@dataclass(frozen=True)
class Instalment:
    """A part of the total that falls due at an event.

    Raises:
        PricingError: no event, or a share out of range.

    Source: own rule.

    >>> Instalment("on signing", Decimal("0.10")).share
    Decimal('0.10')
    """

    event: Annotated[str, Text(200), "What it falls due at.", As(label="Falls due")]
    share: Annotated[
        Decimal | Fraction,
        Share(),
        'Its share of the total, more than 0; all shares add up to exactly 1, thirds written as "1/3".',
        As(label="Share, %", in_percent=True),
    ]

    def __post_init__(self) -> None:
        if not self.event.strip():
            raise PricingError("Instalment: it needs the event it falls due at.")
        check_between(self.share, f"Instalment {self.event!r}: the share", Decimal(0), Decimal(1))
        if self.share == 0:
            raise PricingError(f"Instalment {self.event!r}: the share must be over 0.")


@dataclass(frozen=True)
class InstalmentDue:
    """An instalment with its amount.

    Args:
        event: what it falls due at.
        share: its share of the total, over 0 to 1.
        amount: the amount due, in whole cents, 0 or more.
        credited: the part of it that the deposit has paid already, in whole cents, 0 up to the amount.

    Raises:
        PricingError: an amount with a part of a cent, under 0, or more credited than is due.

    Source: own rule.

    >>> InstalmentDue("on signing", Decimal("0.10"), Decimal("1564.14")).amount
    Decimal('1564.14')
    """

    event: str
    share: Decimal | Fraction
    amount: Decimal
    credited: Decimal = Decimal("0.00")

    def __post_init__(self) -> None:
        check_cents(self.amount, f"Instalment {self.event!r}: the amount")
        check_cents(self.credited, f"Instalment {self.event!r}: the part the deposit has paid")
        if self.credited > self.amount:
            raise PricingError(f"Instalment {self.event!r}: more is credited than is due.")

    @property
    def to_pay(self) -> Decimal:
        """What is still to be paid at the event.

        Returns:
            The amount less what the deposit has paid, in whole cents.

        Source: own rule.

        >>> InstalmentDue("boards up", Decimal("0.10"), Decimal("1564.14"), Decimal("1000.00")).to_pay
        Decimal('564.14')
        """
        return self.amount - self.credited


def instalments_due(total: Decimal, instalments: Sequence[Instalment]) -> tuple[InstalmentDue, ...]:
    """Split the total into the instalments.

    Args:
        total: price and tax, in whole cents, 0 or more.
        instalments: the parts, shares adding up to 1; empty for none.

    Returns:
        One amount each, adding up to the total exactly; the last takes the odd cent.

    Raises:
        MoneyError: shares that do not add up to 1.

    Source: trade rules, money (own rule).

    >>> halves = [Instalment("on signing", Decimal("0.5")), Instalment("on completion", Decimal("0.5"))]
    >>> [str(due.amount) for due in instalments_due(Decimal("100.01"), halves)]
    ['50.01', '50.00']
    """
    if not instalments:
        return ()
    amounts = split_by_shares(total, [each.share for each in instalments])
    return tuple(
        InstalmentDue(each.event, each.share, amount) for each, amount in zip(instalments, amounts, strict=True)
    )


def credit_deposit(due: Sequence[InstalmentDue], paid: Decimal) -> tuple[InstalmentDue, ...]:
    """Credit a deposit against the instalments, from the first on, so that nothing is asked for twice.

    Args:
        due: the instalments in the order they fall due.
        paid: the deposit, in whole cents, 0 up to the sum of the instalments.

    Returns:
        The same instalments, each with the part of it the deposit has paid.

    Raises:
        PricingError: a deposit that is more than all instalments together.

    Source: own rule: a deposit is part of the price and not beside it.

    >>> first, last = (InstalmentDue(event, Decimal("0.5"), Decimal("50.00")) for event in ("start", "end"))
    >>> [str(one.to_pay) for one in credit_deposit((first, last), Decimal("60.00"))]
    ['0.00', '40.00']
    """
    left, credited = paid, []
    for entry in due:
        taken = min(left, entry.amount)
        credited.append(replace(entry, credited=taken))
        left -= taken
    if due and left:
        raise PricingError(f"The deposit of {paid:,} is more than all instalments together; {left:,} is left over.")
    return tuple(credited)


@dataclass(frozen=True)
class DepositRule:
    """How the deposit is set. Limits of the law are the firm's to enter on its lawyer's word.

    Raises:
        PricingError: a figure out of range, or a rule that is both limited and raised.

    Source: firm data; the law on deposits differs by place and is entered on the firm's lawyer's word.

    >>> DepositRule(Decimal("0.10"), at_most=Decimal("1000.00")).at_most
    Decimal('1000.00')
    """

    document_name = "deposit"

    share: Annotated[
        Decimal | Fraction,
        Share(),
        "The deposit as a share of the price.",
        As(label="Deposit, %", hint="Of the price; or 1/3. Empty: none.", in_percent=True),
    ]
    at_most: Annotated[
        Decimal | None, Money(), "Never more than this amount; not together with covers_special_orders."
    ] = None
    covers_special_orders: Annotated[
        bool, "Raised to the cost of special orders where that is more.", As(label="At least the special orders")
    ] = False
    legal_share: Annotated[
        Decimal | Fraction | None,
        Share(),
        "Greatest share the place allows; only warned of.",
        As(label="The law's limit, %", hint="As your adviser says.", in_percent=True),
    ] = None
    legal_amount: Annotated[
        Decimal | None,
        Money(),
        "Greatest amount the place allows; only warned of.",
        As(label="The law's limit, amount"),
    ] = None

    def __post_init__(self) -> None:
        check_between(self.share, "Deposit: the share", Decimal(0), Decimal(1))
        if self.legal_share is not None:
            check_between(self.legal_share, "Deposit: the law's share", Decimal(0), Decimal(1))
        for amount, what in ((self.at_most, "greatest amount"), (self.legal_amount, "law's amount")):
            if amount is not None:
                check_cents(amount, f"Deposit: the {what}")
        if self.at_most is not None and self.covers_special_orders:
            raise PricingError("Deposit: it is either limited to an amount or raised to special orders, not both.")


@dataclass(frozen=True)
class Deposit(View):
    """A deposit with its reasons.

    Args:
        amount: the deposit, in whole cents, 0 or more.
        special_order_cost: what the special orders cost, in whole cents, 0 or more.
        explanation: how the amount came about.
        warnings: sentences for the office: over the law's limit, or less than the special orders cost.

    Raises:
        PricingError: an amount with a part of a cent, or under 0.

    Source: own rule.

    >>> Deposit(Decimal("1000.00"), Decimal("0.00"), "10 %", ()).warnings
    ()
    """

    document_name = "quoted_deposit"

    amount: Annotated[Decimal, Amount()]
    special_order_cost: Annotated[Decimal, Amount()]
    explanation: str
    warnings: tuple[str, ...]

    def __post_init__(self) -> None:
        check_cents(self.amount, "Deposit: the amount")
        check_cents(self.special_order_cost, "Deposit: the cost of special orders")


def deposit(contract_price: Decimal, special_order_cost: Decimal, rule: DepositRule) -> Deposit:
    """Work out the deposit.

    Args:
        contract_price: the price the share is taken of, in whole cents, 0 or more.
        special_order_cost: what special orders cost the firm, in whole cents, 0 or more.
        rule: how the deposit is set.

    Returns:
        The deposit, never more than the contract price, with its reasons and warnings.

    Raises:
        PricingError: an amount with a part of a cent, or under 0.

    Source: own rule; defer to local law.

    >>> third = DepositRule(Fraction(1, 3), covers_special_orders=True)
    >>> deposit(Decimal("29593.75"), Decimal("4260.00"), third).amount
    Decimal('9864.58')
    """
    check_cents(contract_price, "Deposit: the contract price")
    check_cents(special_order_cost, "Deposit: the cost of special orders")
    by_share = to_cents(Fraction(contract_price) * Fraction(rule.share))
    amount, why = by_share, f"{percent_words(rule.share)} of {contract_price:,}"
    if rule.at_most is not None:
        amount, why = min(by_share, rule.at_most), f"the lesser of {why} and {rule.at_most:,}"
    elif rule.covers_special_orders:
        amount = min(max(by_share, special_order_cost), contract_price)
        why = f"the greater of {why} and the special orders of {special_order_cost:,}"
    warnings = []
    limits = []
    if rule.legal_share is not None:
        limits.append(to_cents(Fraction(contract_price) * Fraction(rule.legal_share)))
    if rule.legal_amount is not None:
        limits.append(rule.legal_amount)
    if limits and amount > min(limits):
        warnings.append(
            f"The deposit of {amount:,} is over the limit of {min(limits):,} entered for this place; "
            "check local law before asking for it."
        )
    if amount < special_order_cost:
        warnings.append(f"The deposit of {amount:,} does not cover the special orders of {special_order_cost:,}.")
    return Deposit(amount, special_order_cost, f"Deposit {amount:,}: {why}.", tuple(warnings))
