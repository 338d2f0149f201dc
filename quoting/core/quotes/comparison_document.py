"""Builds side by side as a JSON value, the same for the API and the pages."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from catalog.core.ground.declared import write
from catalog.core.ground.plain_text import money, plain
from catalog.core.materials.specs import KINDS
from quoting.core.quotes.comparison import Build, Comparison, Difference

Document = dict[str, Any]


def comparison_document(compared: Comparison) -> Document:
    """The build as it stands and the others beside it.

    compared: as worked out. Returns a JSON value; money as text with two places, hours to a tenth, days as ISO text,
    None for what is not known, with the reason among the build's `missing`.
    """
    present = compared.present.done
    return {
        "job": present.read.job.key,
        "title": present.read.job.title,
        "today": present.today.isoformat(),
        "currency": present.read.book.firm.currency,
        "present": build_document(compared.present),
        "builds": [build_document(build) for build in compared.builds],
        "held": list(compared.held),
    }


def build_document(build: Build) -> Document:
    """One build: what it buys, takes and costs, when it is done, its risks, and what differs."""
    return {
        "name": build.name,
        "variant": None if build.variant is None else write(build.variant),
        "walls": list(build.walls),
        "material_cost": money(build.material_cost),
        "hours": None if build.hours is None else round(build.hours, 1),
        "price": money(build.price),
        "total": money(build.total),
        "finish": build.finish.isoformat() if build.finish else None,
        "kinds": [
            {
                "kind": bought.kind,
                "label": KINDS[bought.kind],
                "cost": money(bought.cost),
                "purchases": [
                    {
                        "material": purchase.material,
                        "name": purchase.name,
                        "buy": plain(purchase.buy),
                        "unit": purchase.unit,
                        "cost": money(purchase.cost),
                    }
                    for purchase in bought.purchases
                ],
            }
            for bought in build.kinds
        ],
        "long_lead": [
            {
                "material": need.material,
                "name": need.name,
                "order_by": need.dates.order_by.isoformat() if need.dates else None,
                "days_in_hand": need.in_hand,
            }
            for need in build.long_lead
        ],
        "risks": dict(build.risks),
        "missing": list(build.missing),
        "decisions_left_behind": [
            {"key": override.key, "by": override.by, "reason": override.reason} for override in build.left_behind
        ],
        "differences": {
            "purchases": [_difference(purchase) for purchase in build.purchases],
            "steps": [_difference(step) for step in build.steps],
        },
    }


def _difference(difference: Difference) -> Document:
    is_step = difference.unit == "h"
    written: Document = {
        "key": difference.key,
        "name": difference.name,
        "unit": difference.unit,
        "before": plain(difference.before),
        "after": plain(difference.after),
        "difference": plain((difference.after or Decimal(0)) - (difference.before or Decimal(0))),
    }
    return written if is_step else written | {"cost": money(difference.cost)}
