"""A job as a month shows it, from its costs; and that as a document, which the close of the month keeps."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any, cast

from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import plain
from quoting.core.money.bridge import Bridge, BridgeCause, BridgeError, BridgeStep, bridge_of
from quoting.core.money.cost_parts import TO_DATE, CostPart
from quoting.core.money.job_costs import JobCosts
from quoting.core.money.month_figures import Cause, JobOfMonth, RowAmount

Document = dict[str, Any]
AMOUNTS = ("price", "quoted", "contract", "agreed", "cost")


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
    steps = tuple(BridgeStep(cast(BridgeCause, cause.name), cause.amount, cause.points, ()) for cause in job.causes)
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


def write_job(job: JobOfMonth) -> Document:
    """As JSON values; `read_job` reads it back the same."""
    return {
        "key": job.key,
        "title": job.title,
        "client": job.client,
        "done_on": job.done_on and job.done_on.isoformat(),
        **{name: str(getattr(job, name)) for name in AMOUNTS},
        "to_date": str(job.to_date),
        "causes": [
            {"cause": cause.name, "amount": str(cause.amount), "points": str(cause.points), "why": cause.why}
            for cause in job.causes
        ],
        "rows": [
            {"row": row.row, "what": row.what, "amount": str(row.amount), "day": row.day and row.day.isoformat()}
            for row in job.rows
        ],
        "gaps": list(job.gaps),
    }


def read_job(stored: Mapping[str, Any]) -> JobOfMonth:
    return JobOfMonth(
        stored["key"],
        stored["title"],
        stored["client"],
        _day(stored["done_on"]),
        causes=tuple(
            Cause(entry["cause"], Decimal(entry["amount"]), Decimal(entry["points"]), entry["why"])
            for entry in stored["causes"]
        ),
        rows=tuple(
            RowAmount(entry["row"], entry["what"], Decimal(entry["amount"]), _day(entry["day"]))
            for entry in stored["rows"]
        ),
        gaps=tuple(stored["gaps"]),
        **{name: Decimal(stored[name]) for name in AMOUNTS},
    )


def _points(price: Decimal, cost: Decimal) -> Decimal:
    return to_cents((Fraction(price) - Fraction(cost)) * 100 / Fraction(price))


def _row(part: CostPart) -> RowAmount:
    return RowAmount(f"{part.stage} {part.row or part.item}", part.what, part.amount, part.day)


def _why(step: BridgeStep) -> str:
    if step.cause != "hours":
        return ""
    hours = sum((part.quantity for part in step.parts), Fraction(0))
    return f"{plain(to_cents(hours))} h over" if hours > 0 else ""


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None
