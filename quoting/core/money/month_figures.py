"""What a month made: its jobs in a sentence, the overhead it carried, and what was learnt after its close."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Annotated

from catalog.core.ground.day_words import month_words
from catalog.core.ground.declared import As, Declared, Exact, Items, Words
from catalog.core.ground.money import to_cents
from quoting.core.money.bridge import BridgeCause

NOTHING = Decimal("0.00")
MAX_ROWS = 1_000_000
COUNTS = ("", "", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True)
class RowAmount:
    """What one row came to in the cost of a job. row: names it, with how it counts. what: in words."""

    row: str
    what: Annotated[str, Words()]
    amount: Annotated[Decimal, Exact()]
    day: date | None = None


@dataclass(frozen=True)
class Cause:
    """One reason why the cost is not what was quoted.

    amount: in whole cents, over zero where it cost more. points: of margin it took. why: in a few words, such as how
    many hours over; empty where the amount says it.
    """

    name: Annotated[BridgeCause, As(name="cause")]
    amount: Annotated[Decimal, Exact()]
    points: Annotated[Decimal, Exact()] = NOTHING
    why: str = ""

    @property
    def words(self) -> str:
        return self.why or f"{self.name} {self.amount:,}"


@dataclass(frozen=True)
class JobOfMonth:
    """A job in a month, in whole cents before tax.

    done_on: None while it goes on. price, quoted: as accepted, and what that was to cost. contract, agreed: the same
    with signed notes. cost: what it cost, of one that goes on what it will have cost at completion. rows: what each row
    came to until now; they add up to `to_date`. gaps: sentences of what is missing.
    """

    key: str
    title: Annotated[str, Words()]
    client: Annotated[str, Words()]
    done_on: date | None
    price: Annotated[Decimal, Exact()]
    quoted: Annotated[Decimal, Exact()]
    contract: Annotated[Decimal, Exact()]
    agreed: Annotated[Decimal, Exact()]
    cost: Annotated[Decimal, Exact()]
    to_date: Annotated[Decimal, Exact()] = field(init=False)
    causes: tuple[Cause, ...] = ()
    rows: Annotated[tuple[RowAmount, ...], Items(Declared(RowAmount), MAX_ROWS)] = ()
    gaps: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "to_date", _sum(row.amount for row in self.rows))

    @property
    def quoted_margin(self) -> Fraction | None:
        return margin_of(self.price, self.quoted)

    @property
    def margin(self) -> Fraction | None:
        return margin_of(self.contract, self.cost)

    @property
    def largest_causes(self) -> tuple[Cause, ...]:
        """The three that cost most."""
        lost = [cause for cause in self.causes if cause.amount > 0]
        return tuple(sorted(lost, key=lambda cause: -cause.amount)[:3])


def margin_of(price: Decimal, cost: Decimal) -> Fraction | None:
    """Share of the price that is left; None where the price is not over nought."""
    return (Fraction(price) - Fraction(cost)) / Fraction(price) if price > 0 else None


def percent(share: Fraction | None, places: int = 1) -> str:
    """A share as people read it; a dash where there is none.

    >>> percent(Fraction(3, 8)), percent(None)
    ('37.5 %', '-')
    """
    if share is None:
        return "-"
    exact = Decimal(share.numerator) * 100 / Decimal(share.denominator)
    return f"{exact.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)} %"


def made_sentence(month: date, finished: Sequence[JobOfMonth]) -> str:
    """What the finished jobs made together, beside what they were quoted at."""
    if not finished:
        return f"No job was finished in {month_words(month)}."
    made = margin_of(_sum(job.contract for job in finished), _sum(job.cost for job in finished))
    quoted = margin_of(_sum(job.price for job in finished), _sum(job.quoted for job in finished))
    count = len(finished)
    who = "The finished job" if count == 1 else f"The {COUNTS[count] if count < len(COUNTS) else count} finished jobs"
    return f"{who} made {percent(made)}; quoted was {percent(quoted)}."


def loss_sentence(finished: Iterable[JobOfMonth]) -> str:
    """Which cause took most, as a share of the loss where none gained; empty where the gains make up for it."""
    lost: defaultdict[str, Decimal] = defaultdict(Decimal)
    for cause in (cause for job in finished for cause in job.causes):
        lost[cause.name] += cause.amount
    over = {name: amount for name, amount in lost.items() if amount > 0}
    if sum(lost.values()) <= 0:
        return ""
    name = max(over, key=lambda text: over[text])
    if any(amount < 0 for amount in lost.values()):
        return f"{name.capitalize()} took the most: {over[name]:,}."
    share = percent(Fraction(over[name]) / Fraction(sum(over.values())), 0)
    return f"{name.capitalize()} took {'all' if share == '100 %' else share} of the loss."


@dataclass(frozen=True)
class OverheadOfMonth:
    """Overhead the jobs carried in a month, against what it was.

    minutes, cost: of the month's work on jobs. per_hour, share: the firm's rule, one of the two; None where it has
    none. actual: in whole cents, None while nothing is entered.
    """

    minutes: int
    cost: Decimal
    per_hour: Decimal | None
    share: Decimal | None
    actual: Decimal | None

    @property
    def recovered(self) -> Decimal | None:
        """By the rule, in whole cents; None without a rule.

        >>> OverheadOfMonth(412 * 60, Decimal(0), Decimal("9.50"), None, None).recovered
        Decimal('3914.00')
        """
        if self.per_hour is not None:
            return to_cents(Fraction(self.per_hour) * self.minutes / 60)
        return None if self.share is None else to_cents(Fraction(self.share) * Fraction(self.cost))

    @property
    def short(self) -> Decimal | None:
        """What the jobs did not carry, under zero where they carried more; None where either is not known."""
        return None if self.recovered is None or self.actual is None else self.actual - self.recovered


@dataclass(frozen=True)
class LaterNews:
    """A row that came to something else than when the month was closed. was, now: in whole cents, 0 where absent.

    corrects: what it corrects, in words; empty where nobody has looked.
    """

    row: str
    what: str
    was: Annotated[Decimal, Exact()]
    now: Annotated[Decimal, Exact()]
    change: Annotated[Decimal, Exact()] = field(init=False)
    corrects: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "change", self.now - self.was)


def later_news(closed: Iterable[RowAmount], now: Iterable[RowAmount]) -> tuple[LaterNews, ...]:
    """The rows that make up the difference between a month as it was closed and as it is known now.

    closed, now: rows of one job; of one row several amounts are added up. Returns what differs, newest rows first;
    their changes add up to the difference. Source: own rule; the check is a bill of 464.40 for goods that stood at
    458.40.

    >>> before = [RowAmount("received 7", "24 boards", Decimal("458.40"))]
    >>> after = [RowAmount("billed 3/1", "A-779: 24 boards", Decimal("464.40"))]
    >>> [str(one.change) for one in later_news(before, after)]
    ['464.40', '-458.40']
    """
    was, new = _by_row(closed), _by_row(now)
    changed = [key for key in {**new, **was} if was.get(key, (NOTHING, ""))[0] != new.get(key, (NOTHING, ""))[0]]
    return tuple(_news(key, was, new) for key in changed)


Rows = Mapping[str, tuple[Decimal, str]]


def _news(key: str, was: Rows, now: Rows) -> LaterNews:
    words = (now.get(key) or was[key])[1]
    return LaterNews(key, words, was.get(key, (NOTHING, ""))[0], now.get(key, (NOTHING, ""))[0])


def _by_row(rows: Iterable[RowAmount]) -> Rows:
    pairs: dict[str, tuple[Decimal, str]] = {}
    for row in rows:
        pairs[row.row] = (pairs.get(row.row, (NOTHING, ""))[0] + row.amount, row.what)
    return pairs


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, NOTHING)
