"""A revision's priced lines as a sheet: the cents that were issued, and nothing of what the work costs the firm."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.plain_text import half_up, plain
from catalog.services.csv_writing import Cell, write_sheet
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.offers import offer_of

COLUMNS = ("quote", "revision", "currency", "part", "what", "group", "share", "price", "taxed", "tax", "total")
Cells = dict[str, Cell]


def quote_csv(revision: QuoteRevision) -> bytes:
    """Amounts with a point, whatever the place, and to the cent."""
    head: Cells = {"quote": revision.quote.number, "revision": revision.number, "currency": revision.currency}
    return write_sheet(COLUMNS, (head | _to_the_cent(cells) for cells in _rows(revision)))


def _to_the_cent(cells: Cells) -> Cells:
    return {name: half_up(cell, 2) if isinstance(cell, Decimal) else cell for name, cell in cells.items()}


def _rows(revision: QuoteRevision) -> Iterator[Cells]:
    for line in revision.lines.all():
        yield {"part": "line", "what": line.section, "price": line.price, "taxed": line.taxed, "tax": line.tax}
    yield {
        "part": "total",
        "what": "Total",
        "price": revision.price,
        "tax": revision.tax,
        "total": revision.total,
    }
    for due in revision.instalments.all():
        yield {"part": "instalment", "what": due.event, "share": _share(due.share), "total": due.amount}
    for option in offer_of(revision).options:
        yield {
            "part": "option",
            "what": option.title,
            "group": option.group,
            "price": option.price,
            "taxed": option.taxed,
        }


def _share(share: Decimal | Fraction) -> str:
    """A spreadsheet takes 1/3 for a day."""
    if isinstance(share, Fraction):
        return f"{share.numerator} of {share.denominator}"
    return plain(share) or ""
