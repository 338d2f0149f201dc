"""What of the requests is paid: payments pay the oldest first, and what is over is paid ahead."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

from quoting.core.money.request_parts import NOTHING, Parts, sum_of

State = Literal["issued", "part paid", "paid", "credited"]
STATE_WORDS: dict[State, str] = {
    "issued": "Not paid",
    "part paid": "Part paid",
    "paid": "Paid",
    "credited": "Credited",
}


@dataclass(frozen=True)
class IssuedRequest:
    """to_pay: under 0 where the client gets money back. held: back of it; under 0 where it is released.

    credited_by: the number of the request that takes it back, None while it stands.
    """

    number: int
    day: date
    due: date
    what: str
    to_pay: Parts
    held: Parts = field(default_factory=Parts)
    credited_by: int | None = None


@dataclass(frozen=True)
class CameIn:
    """A payment that stands. row: what it is known by."""

    row: str
    day: date
    amount: Decimal


@dataclass(frozen=True)
class Standing:
    """A request with what of it is paid."""

    request: IssuedRequest
    paid: Decimal

    @property
    def open(self) -> Decimal:
        """Whole cents; nought of a credited one, and of one that gives money back."""
        if self.request.credited_by is not None:
            return NOTHING
        return max(NOTHING, self.request.to_pay.total) - self.paid

    @property
    def state(self) -> State:
        if self.request.credited_by is not None:
            return "credited"
        if not self.open:
            return "paid"
        return "part paid" if self.paid else "issued"

    @property
    def words(self) -> str:
        return STATE_WORDS[self.state]

    def is_overdue(self, today: date) -> bool:
        return bool(self.open) and self.request.due < today


@dataclass(frozen=True)
class Asked:
    """What was asked for of a job, and what of it came in.

    requests: by number, credited ones too. requested: to pay, of those that stand, price and tax. held: still held.
    paid: of the requests. ahead: came in, and no request asks for it. shares: of each payment, by its row, the
    requests it pays with the amounts.
    """

    requests: tuple[Standing, ...] = ()
    requested: Parts = field(default_factory=Parts)
    held: Parts = field(default_factory=Parts)
    paid: Decimal = NOTHING
    ahead: Decimal = NOTHING
    shares: dict[str, tuple[tuple[int, Decimal], ...]] = field(default_factory=dict)

    @property
    def billed(self) -> Decimal:
        """The price parts requested, what is held included. Source: trade rules, money."""
        return self.requested.price + self.held.price

    @property
    def open(self) -> Decimal:
        return sum((request.open for request in self.requests), NOTHING)

    def overdue(self, today: date) -> tuple[Standing, ...]:
        """Those with money open whose day has passed, by number."""
        return tuple(request for request in self.requests if request.is_overdue(today))

    def due_within(self, today: date, days: int) -> Decimal:
        """What is open and due by then, overdue sums included."""
        last = today + timedelta(days=days)
        return sum((request.open for request in self.requests if request.request.due <= last), NOTHING)


def settle(requests: Iterable[IssuedRequest], payments: Iterable[CameIn]) -> Asked:
    """Share payments out over requests, oldest first.

    Args:
        requests: all of one job, also those credited by another.
        payments: those that stand.

    Returns:
        What is asked, paid, open, held and paid ahead. What a request gives back counts as paid in before the payments.

    Raises:
        Nothing.

    Source: own rule: a payment pays the oldest request first.

    >>> day = date(2027, 5, 3)
    >>> asked = IssuedRequest(1, day, day, "Deposit", Parts(Decimal("100.00")))
    >>> settle([asked], [CameIn("7", day, Decimal("40.00"))]).open
    Decimal('60.00')
    """
    rows = sorted(requests, key=lambda request: request.number)
    live = [row for row in rows if row.credited_by is None]
    left = {request.number: request.to_pay.total for request in live if request.to_pay.total > 0}
    given_back = sum((-request.to_pay.total for request in live if request.to_pay.total < 0), NOTHING)
    ahead = given_back - sum((amount for _, amount in _take(left, given_back)), NOTHING)
    shares = {}
    for entry in sorted(payments, key=lambda entry: (entry.day, len(entry.row), entry.row)):
        shares[entry.row] = _take(left, entry.amount)
        ahead += entry.amount - sum((amount for _, amount in shares[entry.row]), NOTHING)
    standings = tuple(Standing(row, _paid(row, left)) for row in rows)
    return Asked(
        standings,
        sum_of(request.to_pay for request in live),
        sum_of(request.held for request in live),
        sum((status.paid for status in standings), NOTHING),
        ahead,
        shares,
    )


def _take(left: dict[int, Decimal], amount: Decimal) -> tuple[tuple[int, Decimal], ...]:
    pairs: Sequence[tuple[int, Decimal]] = ()
    for number, wanted in left.items():
        taken = min(wanted, amount)
        if taken > 0:
            pairs = (*pairs, (number, taken))
            left[number] -= taken
            amount -= taken
    return tuple(pairs)


def _paid(request: IssuedRequest, left: dict[int, Decimal]) -> Decimal:
    return request.to_pay.total - left[request.number] if request.number in left else NOTHING
