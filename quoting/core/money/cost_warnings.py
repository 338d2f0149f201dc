"""What somebody must look at in the cost of a job: a sentence, an amount, and where to look."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

from catalog.core.ground.declared import Amount
from catalog.core.ground.money import to_cents
from quoting.core.money.completion import steps_with_work_after_done
from quoting.core.money.cost_parts import CostPart
from quoting.core.money.earned import Earned
from quoting.core.money.job_costs import JobCosts
from quoting.core.money.quoted import FREIGHT, NOTHING


@dataclass(frozen=True)
class WarningLimits:
    """From when on something is warned of; settings of the firm.

    days_without_bill, days_without_hours: calendar days. under_billed: share of the contract. points_a_month: of
    margin. least_margin: as a share, None for none.
    """

    days_without_bill: int = 10
    days_without_hours: int = 7
    under_billed: Fraction = Fraction(1, 10)
    points_a_month: Decimal = Decimal("2.00")
    least_margin: Decimal | None = None


@dataclass(frozen=True)
class WarningFacts:
    """What else warnings go by.

    received_on: first day goods of an order line came, by its row. margin_before: a month ago, None where unknown.
    running_since: the day work began on site, None where it did not or is over. overdue: requests over their day, in
    whole cents. passed_by_author: whoever issued the quote also passed its low margin.
    """

    today: date
    received_on: Mapping[str, date] = field(default_factory=dict)
    margin_before: Fraction | None = None
    running_since: date | None = None
    overdue: Decimal = NOTHING
    passed_by_author: bool = False


@dataclass(frozen=True)
class CostWarning:
    """kind: what a page links by. item: the item it is of, empty for the whole job. amount: None where none stands."""

    kind: str
    sentence: str
    amount: Annotated[Decimal | None, Amount()] = None
    item: str = ""


def cost_warnings(
    costs: JobCosts, earned: Earned, facts: WarningFacts, limits: WarningLimits
) -> tuple[CostWarning, ...]:
    """All warnings of a job.

    costs, earned: of the job. facts, limits: what else they go by. Returns them, goods without a bill first.
    Source: own rule.
    """
    return (
        *_bills(costs, facts, limits),
        *_rows(costs),
        *_margin(costs, facts, limits),
        *_client(costs, earned, facts, limits),
        *_site(costs, facts, limits),
    )


def _bills(costs: JobCosts, facts: WarningFacts, limits: WarningLimits) -> Iterator[CostWarning]:
    since = facts.today - timedelta(days=limits.days_without_bill)
    late = [
        part
        for part in costs.parts
        if part.stage == "received"
        and part.category != FREIGHT
        and facts.received_on.get(part.row, facts.today) < since
    ]
    if late:
        amount = sum((part.amount for part in late), NOTHING)
        orders = {row.row: row.order for row in costs.facts.ordered}
        names = _names(orders.get(part.row, part.what) for part in late)
        message = f"Goods of {names}: no bill after {limits.days_without_bill} days."
        yield CostWarning("no_bill", f"{message} {_points(costs, amount)} points rest on it.", amount)
    unbilled, gain = costs.received_not_billed, costs.agreed - costs.at_completion
    if unbilled and 0 < gain <= unbilled:
        message = (
            f"The job gains {gain:,}, and {unbilled:,} of goods have no bill yet: the gain may only be missing bills."
        )
        yield CostWarning("gain_without_bills", message, unbilled)
    for row in costs.facts.ordered:
        if row.billed > row.received:
            message = f"{row.order}, {row.what}: {_plain(row.billed)} billed, {_plain(row.received)} received."
            yield CostWarning("billed_over_received", message, None, row.item)


def _rows(costs: JobCosts) -> Iterator[CostWarning]:
    for gap in costs.gaps:
        yield CostWarning(gap.kind, gap.sentence, None, gap.item)
    for step in steps_with_work_after_done(costs.parts, costs.facts.hours_left):
        yield CostWarning("after_done", f"{_named(costs, step)}: hours were entered after it was done.", None, step)
    stray = [item for item in costs.items if not item.is_coded and item.category != FREIGHT and _own(item.parts)]
    for item in stray:
        amount = _own(item.parts)
        what = (
            "Hours on no step" if item.category == "labour" and not item.item else f"Nothing is quoted for {item.what}"
        )
        yield CostWarning("not_coded", f"{what}: {amount:,} counts as unforeseen.", amount, item.item)


def _own(parts: Iterable[CostPart]) -> Decimal:
    return sum((part.amount for part in parts if not part.cause), NOTHING)


def _margin(costs: JobCosts, facts: WarningFacts, limits: WarningLimits) -> Iterator[CostWarning]:
    margin, loss = costs.margin, costs.at_completion - costs.contract
    if loss > 0:
        yield CostWarning("loss", f"The job loses {loss:,}; the whole loss shows now.", loss)
    elif margin is not None and limits.least_margin is not None and margin < limits.least_margin:
        message = (
            f"The margin falls to {_percent(margin)} %, under the firm's least of {_percent(limits.least_margin)} %."
        )
        yield CostWarning("under_least", message)
    if facts.margin_before is not None and margin is not None:
        lost = to_cents((Fraction(facts.margin_before) - margin) * 100)
        if lost > limits.points_a_month:
            yield CostWarning("falls", f"The margin fell by {lost} points within a month.")
    if facts.passed_by_author:
        yield CostWarning("passed_by_author", "The same person issued the quote and passed its low margin.")


def _client(costs: JobCosts, earned: Earned, facts: WarningFacts, limits: WarningLimits) -> Iterator[CostWarning]:
    spent = sum((part.amount for part in costs.parts if part.cause == "unbilled"), NOTHING)
    if spent:
        message = f"Work of {spent:,} belongs to notes nobody signed. Get them signed."
        yield CostWarning("unsigned", message, spent)
    under = -earned.over_billed
    if costs.contract > 0 and Fraction(under) > limits.under_billed * Fraction(costs.contract):
        share = _percent(Fraction(under) / Fraction(costs.contract))
        message = f"{under:,} is earned and not asked for, {share} % of the contract."
        yield CostWarning("under_billed", message, under)
    if facts.overdue:
        yield CostWarning("overdue", f"{facts.overdue:,} is overdue.", facts.overdue)


def _site(costs: JobCosts, facts: WarningFacts, limits: WarningLimits) -> Iterator[CostWarning]:
    if facts.running_since is None:
        return
    last = max((row.day for row in costs.facts.hours), default=facts.running_since)
    days = (facts.today - max(last, facts.running_since)).days
    if days >= limits.days_without_hours:
        yield CostWarning("no_hours", f"The job runs, and no hours are in for {days} days. Enter them.")


def _points(costs: JobCosts, amount: Decimal) -> Decimal:
    return to_cents(Fraction(amount) * 100 / Fraction(costs.contract)) if costs.contract > 0 else NOTHING


def _named(costs: JobCosts, step: str) -> str:
    return next((item.what for item in costs.items if (item.category, item.item) == ("labour", step)), step)


def _names(whats: Iterable[str]) -> str:
    names = list(dict.fromkeys(whats))
    more = f" and {len(names) - 2} more" if len(names) > 2 else ""
    return f"{', '.join(names[:2])}{more}"


def _percent(share: Fraction | Decimal) -> Decimal:
    return to_cents(Fraction(share) * 100)


def _plain(number: Decimal) -> str:
    return format(number.normalize(), "f")
