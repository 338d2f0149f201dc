"""A change being priced, as a document: what a screen and the API give, read and written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from catalog.core.ground.document_reader import Reader
from quoting.core.changes.change_notes import (
    COST_CATEGORIES,
    KINDS,
    MAX_DAYS_MOVED,
    MAX_LINES,
    ChangeCost,
    ChangeError,
    ChangeKind,
    ChangeLine,
)
from quoting.core.prices.tax import TaxedPart, TaxRule

Document = dict[str, Any]
BY_HAND = ("lines", "allowance")


@dataclass(frozen=True)
class ChangeSpec:
    """A change being priced.

    Args:
        kind: priced by hand, worked out from the walls, an allowance used, or one thing for another.
        title: what it is about, one line. reason: why it is made; both never empty.
        lines: of either sign; none while nothing is priced yet.
        days_moved: working days by which the work is done later, negative for sooner, 500 at most either way.
        original, replacement: what was agreed and what takes its place; both for a substitution, empty for none.
        allowance: the name of the allowance that was used; empty for none.
        costs: what it costs the firm, by item; none where nobody said, or where the lines say it.

    Raises:
        ChangeError: a substitution that does not name both.
    """

    kind: ChangeKind
    title: str
    reason: str
    lines: tuple[ChangeLine, ...] = ()
    days_moved: int = 0
    original: str = ""
    replacement: str = ""
    allowance: str = ""
    costs: tuple[ChangeCost, ...] = ()

    def __post_init__(self) -> None:
        if self.kind == "substitution" and not (self.original.strip() and self.replacement.strip()):
            raise ChangeError("A substitution names what was agreed and what takes its place; enter both.")


def read_change(reader: Reader, tax: TaxRule) -> ChangeSpec:
    """Read a change.

    reader: holds kind, title, reason, days_moved, original, replacement, allowance, lines of what, price, taxed and
    cost, and costs of category, item, quantity, unit_cost and what; a change typed by hand says its cost one of the two
    ways. tax: the rule of the agreed quote: where it is charged on the whole price, `taxed` may be left out of a line;
    where it is charged on materials only, it may not. Returns the change; raises DocumentError with every
    complaint.

    >>> from decimal import Decimal
    >>> rule = TaxRule("Sales tax", Decimal("0.13"))
    >>> line = {"what": "Niche", "price": "120.00"}
    >>> read_change(Reader({"title": "Niche", "reason": "Asked for", "lines": [line]}), rule).lines[0].taxed
    Decimal('120.00')
    """
    kind: ChangeKind = reader.choice("kind", KINDS, "lines")
    title, reason = reader.text("title", longest=200), reader.text("reason")
    days_moved = reader.whole("days_moved", -MAX_DAYS_MOVED, MAX_DAYS_MOVED, 0)
    lines = reader.items("lines", lambda entry: _line(entry, tax.applies_to), most=MAX_LINES)
    costs = reader.items("costs", _cost, most=MAX_LINES)
    original, replacement = reader.text("original", ""), reader.text("replacement", "")
    allowance = reader.text("allowance", "", longest=200)
    reader.finish()
    if costs and kind in BY_HAND and any(line.cost is not None for line in lines):
        raise reader.error("costs", "stand beside a cost of a line; say the cost of a change one of the two ways")
    try:
        return ChangeSpec(kind, title, reason, lines, days_moved, original, replacement, allowance, costs)
    except ChangeError as error:
        raise reader.error("original", str(error)) from error


def _line(reader: Reader, part: TaxedPart) -> ChangeLine:
    what, price = reader.text("what", longest=200), reader.money("price", allow_negative=True)
    cost = reader.optional_money("cost", allow_negative=True)
    given = reader.has("taxed")
    taxed = reader.money("taxed", allow_negative=True) if given else price
    reader.pass_over("taxed")
    reader.finish()
    if not given and part == "materials":
        message = "is missing: tax is charged on materials only, so say how much of the price they are"
        raise reader.error("taxed", message)
    try:
        return ChangeLine(what, price, taxed, cost)
    except ChangeError as error:
        raise reader.error("taxed" if given else "price", str(error)) from error


def _cost(reader: Reader) -> ChangeCost:
    category = reader.choice("category", COST_CATEGORIES)
    item, what = reader.text("item", longest=200), reader.text("what", "", longest=200)
    quantity = reader.decimal("quantity", "-10000000", "10000000")
    unit_cost = reader.decimal("unit_cost", "0", "10000000")
    reader.finish()
    try:
        return ChangeCost(category, item, quantity, unit_cost, what)
    except ChangeError as error:
        raise reader.error("item", str(error)) from error


def write_change(change: ChangeSpec) -> Document:
    """The change as `read_change` reads it back the same.

    >>> write_change(ChangeSpec("lines", "Niche", "Asked for"))["lines"]
    []
    """
    return {
        "kind": change.kind,
        "title": change.title,
        "reason": change.reason,
        "days_moved": change.days_moved,
        "original": change.original,
        "replacement": change.replacement,
        "allowance": change.allowance,
        "lines": [
            {
                "what": line.what,
                "price": format(line.price, "f"),
                "taxed": format(line.taxed, "f"),
                "cost": None if line.cost is None else format(line.cost, "f"),
            }
            for line in change.lines
        ],
        "costs": [
            {
                "category": cost.category,
                "item": cost.item,
                "what": cost.what,
                "quantity": format(cost.quantity, "f"),
                "unit_cost": format(cost.unit_cost, "f"),
            }
            for cost in change.costs
        ],
    }
