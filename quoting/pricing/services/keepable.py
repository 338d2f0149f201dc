"""What of a pricing could not be kept exactly: amounts beyond a column, figures and shares finer than it holds."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from catalog.core.ground.declared import Declared, Items, Kind, Money, Number, Writing, entries_of
from catalog.core.ground.document_reader import DocumentProblem
from quoting.core.prices.stated_figures import Share
from quoting.platform.models.bounds import MAX_MONEY
from quoting.platform.models.columns import MILLIONTH
from quoting.pricing.models.shares import ShareTooFine, split_share


def not_keepable(value: Any, path: str = "") -> Iterator[DocumentProblem]:
    """Of a declared value, whatever it holds. path: where it stands in its document."""
    for entry in entries_of(type(value)):
        inner = entry.taken(value, Writing())
        if inner is not None:
            yield from _of(entry.kind, inner, f"{path}{entry.name}")


def _of(kind: Kind, value: Any, name: str) -> Iterator[DocumentProblem]:
    if isinstance(kind, Declared):
        yield from not_keepable(value, f"{name}.")
    elif isinstance(kind, Items):
        for place, one in enumerate(value):
            yield from _of(kind.each, one, f"{name}[{place}]")
    elif isinstance(value, Mapping):
        for key, one in value.items():
            yield from _of(Number(), one, f"{name}.{key}")
    elif reason := _reason(kind, value):
        yield DocumentProblem(name, reason)


def _reason(kind: Kind, value: Decimal) -> str:
    if isinstance(kind, Money) and abs(value) > MAX_MONEY:
        return f"{value:,} is too large; at most {MAX_MONEY:,}"
    if isinstance(kind, Number) and value != value.quantize(MILLIONTH):
        return f"{value} has more than six decimals"
    if isinstance(kind, Share):
        try:
            split_share(value)
        except ShareTooFine as error:
            return str(error)
    return ""
