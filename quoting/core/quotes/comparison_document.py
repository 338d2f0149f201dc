"""Builds side by side as a JSON value, the same for the API and the pages."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from catalog.core.ground.plain_text import money, plain
from catalog.core.materials.specs import KINDS
from quoting.core.prices.variants import write_variant
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
        "builds": [build_document(one) for one in compared.builds],
        "held": list(compared.held),
    }


def build_document(build: Build) -> Document:
    """One build: what it buys, takes and costs, when it is done, its risks, and what differs."""
    return {
        "name": build.name,
        "variant": None if build.variant is None else write_variant(build.variant),
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
                        "material": one.material,
                        "name": one.name,
                        "buy": plain(one.buy),
                        "unit": one.unit,
                        "cost": money(one.cost),
                    }
                    for one in bought.purchases
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
        "decisions_left_behind": [{"key": one.key, "by": one.by, "reason": one.reason} for one in build.left_behind],
        "differences": {
            "purchases": [_difference(one) for one in build.purchases],
            "steps": [_difference(one) for one in build.steps],
        },
    }


def _difference(one: Difference) -> Document:
    is_step = one.unit == "h"
    written: Document = {
        "key": one.key,
        "name": one.name,
        "unit": one.unit,
        "before": plain(one.before),
        "after": plain(one.after),
        "difference": plain((one.after or Decimal(0)) - (one.before or Decimal(0))),
    }
    return written if is_step else written | {"cost": money(one.cost)}
