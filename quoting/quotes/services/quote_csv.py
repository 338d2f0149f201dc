"""A revision's priced lines as a sheet: the cents that were issued, and nothing of what the work costs the firm."""

import csv
import io
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.plain_text import money, plain
from catalog.services.csv_columns import shielded
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.offers import offer_of

COLUMNS = ("quote", "revision", "currency", "part", "what", "group", "share", "price", "taxed", "tax", "total")
Cells = dict[str, str | Decimal]


def quote_csv(revision: QuoteRevision) -> bytes:
    """UTF-8 with comma and CRLF (RFC 4180); amounts with a point, whatever the place."""
    text = io.StringIO(newline="")
    sheet = csv.writer(text)
    sheet.writerow(COLUMNS)
    head: Cells = {"quote": revision.quote.number, "revision": str(revision.number), "currency": revision.currency}
    for cells in _rows(revision):
        sheet.writerow([_cell(name, (head | cells).get(name, "")) for name in COLUMNS])
    return text.getvalue().encode()


def _cell(name: str, value: str | Decimal) -> str:
    """Amounts are numbers, a minus among them; only words could be run as a formula."""
    return money(value) or "" if isinstance(value, Decimal) else shielded(value)


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
