"""What pages say of a job's price without working it out: plain values, kept as a row for those who price."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from jobs.core.measure.findings import Finding
from quoting.core.quotes.work_up import WorkUp


@dataclass(frozen=True)
class PriceFacts:
    """A job's price. price, tax, total, cost: money; margin: a share; None while a gap stands in the way.

    currency: of the firm. findings: what must be read of the quote, what stands in the way among them.
    """

    currency: str
    price: Decimal | None = None
    tax: Decimal | None = None
    total: Decimal | None = None
    cost: Decimal | None = None
    margin: Decimal | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def blocking(self) -> tuple[Finding, ...]:
        """What must be filled in or decided before the quote can be issued."""
        return tuple(finding for finding in self.findings if finding.weight in ("gap", "decide"))


def price_facts(work_up: WorkUp) -> PriceFacts | None:
    """done: the job worked up. Returns what pages say of its price, None where it is not priced. Raises nothing."""
    if work_up.quote is None:
        return None
    currency, priced = work_up.read.book.firm.currency, work_up.quote.priced
    if priced is None:
        return PriceFacts(currency, findings=work_up.quote.findings)
    return PriceFacts(
        currency, priced.price, priced.tax, priced.total, priced.cost, priced.margin, work_up.quote.findings
    )
