"""A job as a month shows it, from its costs; and that as a document, which the close of the month keeps."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.declared import Document, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import plain
from quoting.core.money.bridge import Bridge, BridgeError, BridgeStep, bridge_of
from quoting.core.money.cost_parts import TO_DATE, CostPart
from quoting.core.money.job_costs import JobCosts
from quoting.core.money.month_figures import Cause, JobOfMonth, RowAmount


def job_of_month(key: str, title: str, client: str, done_on: date | None, costs: JobCosts) -> JobOfMonth:
    """costs: of the rows the month knows. Returns the job; without causes where a price is not over nought."""
    try:
        steps: tuple[BridgeStep, ...] = bridge_of(costs).steps
    except BridgeError:
        steps = ()
    return JobOfMonth(
        key,
        title,
        client,
        done_on,
        costs.facts.price,
        costs.quoted,
        costs.contract,
        costs.agreed,
        costs.at_completion,
        tuple(Cause(step.cause, step.amount, step.points, _why(step)) for step in steps),
        tuple(_row(part) for part in costs.parts if part.stage in TO_DATE),
        tuple(gap.sentence for gap in costs.gaps),
    )


def bridge_of_month(job: JobOfMonth) -> Bridge:
    """The bridge of a job as a month shows it, without the rows behind its steps."""
    steps = tuple(BridgeStep(cause.name, cause.amount, cause.points, ()) for cause in job.causes)
    return Bridge(
        job.price,
        job.quoted,
        job.contract,
        job.agreed,
        job.cost,
        quoted_margin=_points(job.price, job.quoted),
        agreed_margin=_points(job.contract, job.agreed),
        margin=_points(job.contract, job.cost),
        steps=steps,
    )


def read_job(stored: Document) -> JobOfMonth:
    """Of a document that may say more of it."""
    return read(JobOfMonth, Reader(stored), whole=False)


def _points(price: Decimal, cost: Decimal) -> Decimal:
    return to_cents((Fraction(price) - Fraction(cost)) * 100 / Fraction(price))


def _row(part: CostPart) -> RowAmount:
    return RowAmount(f"{part.stage} {part.row or part.item}", part.what, part.amount, part.day)


def _why(step: BridgeStep) -> str:
    if step.cause != "hours":
        return ""
    hours = sum((part.quantity for part in step.parts), Fraction(0))
    return f"{plain(to_cents(hours))} h over" if hours > 0 else ""
