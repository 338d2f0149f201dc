"""The figures of a quote as far as this person may see them."""

from decimal import Decimal
from typing import Any

from catalog.core.ground.plain_text import half_up
from jobs.walls.pages.quantities import PurchaseRow, purchase_rows, why_of
from quoting.core.prices.costs import CATEGORIES
from quoting.core.quotes.work_up import WorkUp
from quoting.pricing.models.costs import CATEGORY_CHOICES


def figures_of(work_up: WorkUp, *, with_margin: bool) -> dict[str, Any]:
    quote, names = work_up.quote, dict(CATEGORY_CHOICES)
    priced = quote.priced if quote else None
    categories = []
    if priced is not None:
        for category in CATEGORIES:
            cost, price = priced.cost_by_category[category], priced.price_by_category[category]
            if cost or price:
                categories.append((names[category], cost, price))
    return {
        "currency": work_up.read.book.firm.currency,
        "quote": quote,
        "priced": priced,
        "categories": categories,
        "steps": [(step.line, why_of(step.why)) for step in quote.hours] if quote else [],
        "purchases": _purchases(work_up),
        "show_money": True,
        "hours_together": sum((step.line.quantity for step in quote.hours), Decimal(0)) if quote else None,
        "hours_cost": sum((step.line.cost for step in quote.hours), Decimal(0)) if quote else None,
        "with_margin": with_margin,
        "margin": None if priced is None else half_up(priced.margin * 100, 2),
        "cautions": [finding.sentence for finding in quote.findings if finding.weight == "caution"] if quote else [],
    }


def _purchases(work_up: WorkUp) -> tuple[PurchaseRow, ...]:
    """What the cost of materials is made of; nothing where it is entered in one sum."""
    pricing = work_up.read.pricing
    if pricing is None or pricing.entered_materials is not None:
        return ()
    names = {wall.spec.key: wall.spec.name for wall in work_up.walls}
    return purchase_rows(work_up.takeoff, names, currency=work_up.read.book.firm.currency)
