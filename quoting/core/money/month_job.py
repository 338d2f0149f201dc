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
    steps = tuple(BridgeStep(cast(BridgeCause, one.name), one.amount, one.points, ()) for one in job.causes)
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
            {"cause": one.name, "amount": str(one.amount), "points": str(one.points), "why": one.why}
            for one in job.causes
        ],
        "rows": [
            {"row": one.row, "what": one.what, "amount": str(one.amount), "day": one.day and one.day.isoformat()}
            for one in job.rows
        ],
        "gaps": list(job.gaps),
    }


def read_job(kept: Mapping[str, Any]) -> JobOfMonth:
    return JobOfMonth(
        kept["key"],
        kept["title"],
        kept["client"],
        _day(kept["done_on"]),
        causes=tuple(
            Cause(one["cause"], Decimal(one["amount"]), Decimal(one["points"]), one["why"]) for one in kept["causes"]
        ),
        rows=tuple(
            RowAmount(one["row"], one["what"], Decimal(one["amount"]), _day(one["day"])) for one in kept["rows"]
        ),
        gaps=tuple(kept["gaps"]),
        **{name: Decimal(kept[name]) for name in AMOUNTS},
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
