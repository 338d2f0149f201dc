"""A change being priced, as a document: what a screen and the API give, read and written."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from catalog.core.ground.declared import As, Declared, Items, Text, Whole, read
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.ground.refusal import EntryError
from quoting.core.changes.change_notes import MAX_DAYS_MOVED, MAX_LINES, ChangeCost, ChangeKind, ChangeLine
from quoting.core.prices.tax import TaxRule

BY_HAND = ("lines", "allowance")
KIND_WORDS = (
    ("lines", "Priced by hand"),
    ("walls", "Worked out from the walls"),
    ("allowance", "An allowance used"),
    ("substitution", "One thing for another"),
)
UNTAXED = "is missing: tax is charged on materials only, so say how much of the price they are"


@dataclass(frozen=True)
class ChangeSpec:
    """A change of the accepted quote.

    Args:
        kind: priced by hand, worked out from the walls, an allowance used, or one thing for another.
        title: what it is about, one line. reason: why it is made; both never empty.
        days_moved: working days by which the work is done later, negative for sooner, 500 at most either way.
        original, replacement: what was agreed and what takes its place; both for a substitution, empty for none.
        allowance: the name of the allowance that was used; empty for none.
        lines: of either sign; none while nothing is priced yet.
        costs: what it costs the firm, by item; none where nobody said, or where the lines say it.

    Raises:
        EntryError: a substitution that does not name both.
    """

    document_name = "change"

    kind: Annotated[ChangeKind, As(label="Kind", absent="lines", words=KIND_WORDS)]
    title: Annotated[str, Text(200), As(label="What changes")]
    reason: Annotated[str, As(label="Why", hint="The client reads it.", rows=3)]
    days_moved: Annotated[
        int, Whole(-MAX_DAYS_MOVED, MAX_DAYS_MOVED), As(label="Days added", hint="Working days; -2 for two sooner.")
    ] = 0
    original: Annotated[str, As(label="As agreed", rows=2)] = ""
    replacement: Annotated[str, As(label="In its place", rows=2)] = ""
    allowance: Annotated[str, Text(200)] = ""
    lines: Annotated[tuple[ChangeLine, ...], Items(Declared(ChangeLine), MAX_LINES)] = ()
    costs: Annotated[tuple[ChangeCost, ...], Items(Declared(ChangeCost), MAX_LINES)] = ()

    def __post_init__(self) -> None:
        if self.kind == "substitution" and not (self.original.strip() and self.replacement.strip()):
            message = "A substitution names what was agreed and what takes its place; enter both."
            raise EntryError("original", message)


def read_change(reader: Reader, tax: TaxRule) -> ChangeSpec:
    """Read a change.

    reader: of a change; one typed by hand says its cost one of the two ways. tax: the rule of the agreed quote: where
    it is charged on the whole price, `taxed` may be left out of a line; where it is charged on materials only, it may
    not. Returns the change; raises DocumentError with every complaint.

    >>> from decimal import Decimal
    >>> rule = TaxRule("Sales tax", Decimal("0.13"))
    >>> line = {"what": "Niche", "price": "120.00"}
    >>> read_change(Reader({"title": "Niche", "reason": "Asked for", "lines": [line]}), rule).lines[0].taxed
    Decimal('120.00')
    """
    change = read(ChangeSpec, reader)
    untaxed = [place for place, line in enumerate(reader.values("lines")) if line.get("taxed") is None]
    if untaxed and tax.applies_to == "materials":
        raise DocumentError(DocumentProblem(reader.where(f"lines[{place}].taxed"), UNTAXED) for place in untaxed)
    if change.costs and change.kind in BY_HAND and any(line.cost is not None for line in change.lines):
        raise reader.error("costs", "are given beside a cost of a line; give the cost of a change one of the two ways")
    return change
