"""The figures of a quote as far as this person may see them."""

from decimal import Decimal
from typing import Any

from catalog.core.ground.plain_text import half_up
from quoting.core.prices.costs import CATEGORIES, CATEGORY_WORDS
from quoting.core.quotes.quote_sheet import StepCost
from quoting.core.quotes.work_up import WorkUp


def figures_of(work_up: WorkUp, *, with_margin: bool) -> dict[str, Any]:
    quote = work_up.quote
    priced = quote.priced if quote else None
    categories: list[tuple[str, Decimal, Decimal]] = []
    if priced is not None:
        names, costs, prices = dict(CATEGORY_WORDS), priced.cost_by_category, priced.price_by_category
        categories = [(names[one], costs[one], prices[one]) for one in CATEGORIES if costs[one] or prices[one]]
    return {
        "currency": work_up.read.book.firm.currency,
        "quote": quote,
        "priced": priced,
        "categories": categories,
        "steps_of_work": [(step.line, _curve_factor(step)) for step in quote.hours] if quote else [],
        "hours_together": sum((step.line.quantity for step in quote.hours), Decimal(0)) if quote else None,
        "with_margin": with_margin,
        "margin": None if priced is None else half_up(priced.margin * 100, 2),
        "cautions": [finding.sentence for finding in quote.findings if finding.weight == "caution"] if quote else [],
    }


def _curve_factor(step: StepCost) -> str:
    """Of the work that follows the curve; empty for any other."""
    return {label.lower(): value for label, value in step.why.inputs}.get("curve factor", "")
