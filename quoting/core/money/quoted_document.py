"""The quoted side out of what was frozen at acceptance: the cost lines of the quote as rows with items and quantities.

Materials taken off stand in a quote wall by wall as sums; here each material is one row with what was to be bought of
it. Steps bear the key of their activity, what was entered by hand its own name.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

from catalog.core.ground.money import to_cents
from quoting.core.money.quoted import FREIGHT, ItemKind, QuotedCost
from quoting.core.prices.options import PricedOption
from quoting.core.quotes.job_file import PricingSpec

Document = dict[str, Any]
MAX_STEP = 60
IS_FREIGHT = re.compile(r"\b(freight|carriage)\b", re.IGNORECASE)


def quoted_lines(
    costs: Sequence[Document],
    purchases: Sequence[Document],
    pieces: Mapping[str, int],
    steps: Mapping[str, str],
    pricing: PricingSpec,
) -> tuple[QuotedCost, ...]:
    """The cost lines of a quote as rows; materials are counted as an order counts them, by packs or by pieces.

    costs, purchases: of the frozen quote and takeoff, as their documents say. pieces: made to order, by material.
    steps: keys of activities by name. pricing: frozen with them. Returns the rows, allowances last; their sum is the
    cost of the quote.
    Source: own convention.
    """
    entered = pricing.entered_materials is not None
    taken_off = (
        1
        if entered
        else sum(1 for purchase in purchases for share in purchase["shares"] if Decimal(share["cost"] or 0))
    )
    on_costs = [name for name in ("contingency", "overhead") if getattr(pricing.terms, name) is not None]
    last = len(costs) - len(on_costs)
    rows = [_entered_materials(costs[0])] if entered else list(_purchases(purchases, pieces))
    rows += _by_hand(costs[taken_off:last], steps)
    rows += [_on_cost(cost, name) for cost, name in zip(costs[last:], on_costs, strict=True)]
    rows += [
        QuotedCost(allowance.category, allowance.what, allowance.what, Decimal(1), allowance.own_cost, "allowance")
        for allowance in pricing.terms.allowances
    ]
    return tuple(rows)


def pieces_made(walls: Iterable[Document]) -> dict[str, int]:
    """How many pieces of each material are made to order; walls: of the takeoff, as their documents say."""
    pieces: dict[str, int] = {}
    for trim in (trim for wall in walls for trim in wall["trim"] if trim["order"]):
        pieces[trim["profile"]] = pieces.get(trim["profile"], 0) + len(trim["order"]["piece_lengths"])
    return pieces


def chosen_lines(
    options: Sequence[PricedOption], keys: Collection[str], price: Decimal, cost: Decimal
) -> tuple[QuotedCost, ...]:
    """Options the client took, each one sum; a cost nobody said is its price at the quote's share of cost.

    options: as offered. keys: of those taken. price, cost: of the quote without them, the price over 0.
    Source: own rule; such a cost is marked assumed.
    """
    return tuple(
        QuotedCost("other", option.title, option.title, Decimal(1), option.cost)
        if option.cost is not None
        else assumed(option.title, option.title, option.price, price, cost)
        for option in options
        if option.key in keys
    )


def assumed(item: str, what: str, of_price: Decimal, price: Decimal, cost: Decimal) -> QuotedCost:
    """A cost nobody said: its price x (1 - quoted margin). price, cost: of the quote.

    >>> assumed("note 1", "Niche", Decimal("100.00"), Decimal("1000.00"), Decimal("620.00")).cost
    Decimal('62.00')
    """
    share = Fraction(cost) / Fraction(price) if price > 0 else Fraction(1)
    return QuotedCost(
        "other", item, what, Decimal(1), to_cents(Fraction(of_price) * share), takes_rest=True, is_assumed=True
    )


def _entered_materials(cost: Document) -> QuotedCost:
    return QuotedCost("materials", cost["what"], cost["what"], Decimal(1), Decimal(cost["cost"]), takes_rest=True)


def _purchases(purchases: Sequence[Document], pieces: Mapping[str, int]) -> Iterator[QuotedCost]:
    for purchase in purchases:
        cost, stock = (Decimal(purchase[name] or 0) for name in ("cost", "stock_cost"))
        count = _count(purchase, pieces)
        if count and cost:
            yield QuotedCost(
                "materials", purchase["material"], purchase["name"], count, Fraction(cost) / Fraction(count)
            )
        if stock:
            item, what = f"{purchase['material']} from stock", f"{purchase['name']}, from stock"
            yield QuotedCost("materials", item, what, Decimal(1), stock)


def _count(purchase: Document, pieces: Mapping[str, int]) -> Decimal:
    """As `statement_of` in order_lines.py counts."""
    packs = sum(pack["count"] for pack in purchase["packs"])
    return Decimal(pieces.get(purchase["material"]) or packs or purchase["buy"] or 0)


def _by_hand(costs: Sequence[Document], steps: Mapping[str, str]) -> list[QuotedCost]:
    labour = {cost["what"] for cost in costs if cost["category"] == "labour"}
    rows = []
    for cost in costs:
        quantity, unit_cost = Decimal(cost["quantity"]), Decimal(cost["unit_cost"])
        category, what = cost["category"], cost["what"]
        if category == "labour":
            item = steps.get(what, what[:MAX_STEP])
            rows.append(QuotedCost(category, item, what, quantity, unit_cost, takes_rest=len(labour) == 1))
        elif category == "other" and IS_FREIGHT.search(what):
            rows.append(QuotedCost(FREIGHT, FREIGHT, what, quantity, unit_cost))
        else:
            rows.append(QuotedCost(category, what, what, quantity, unit_cost))
    return rows


def _on_cost(cost: Document, kind: str) -> QuotedCost:
    kinds: Mapping[str, ItemKind] = {"overhead": "overhead", "contingency": "contingency"}
    return QuotedCost("other", kind, cost["what"], Decimal(1), Decimal(cost["cost"]), kinds[kind])
