"""Two revisions side by side: totals, lines, instalments."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from quoting.models import QuoteRevision
from quoting.services.wording import day_words


@dataclass(frozen=True)
class CompareRow:
    """group opens a new heading; difference only for amounts in both."""

    group: str
    label: str
    first: str
    second: str
    difference: str

    @property
    def differs(self) -> bool:
        return self.first != self.second


def compared(first: QuoteRevision, second: QuoteRevision, with_margin: bool) -> list[CompareRow]:
    return [*_totals(first, second, with_margin), *_lines(first, second), *_instalments(first, second)]


def _totals(first: QuoteRevision, second: QuoteRevision, with_margin: bool) -> Iterator[CompareRow]:
    group = "The quote"
    yield _said(group, "Quoted on", day_words(first.quoted_on), day_words(second.quoted_on))
    yield _said(group, "Valid until", day_words(first.valid_until), day_words(second.valid_until))
    yield _said(group, "Standing", first.get_state_display(), second.get_state_display())
    for label, name in (("Price", "price"), ("Tax", "tax"), ("Total", "total")):
        yield _amounts(group, label, getattr(first, name), getattr(second, name))
    yield _amounts("For the office", "Cost", first.cost, second.cost)
    if with_margin:
        margins = [f"{round(one.margin * 100, 2)} %" for one in (first, second)]
        yield _said("For the office", "Margin", *margins)


def _lines(first: QuoteRevision, second: QuoteRevision) -> Iterator[CompareRow]:
    old, new = ({line.section: line.price for line in one.lines.all()} for one in (first, second))
    for section in dict.fromkeys([*old, *new]):
        yield _amounts("Lines of the price", section, old.get(section), new.get(section))


def _instalments(first: QuoteRevision, second: QuoteRevision) -> Iterator[CompareRow]:
    old, new = ({due.event: due.amount for due in one.instalments.all()} for one in (first, second))
    for event in dict.fromkeys([*old, *new]):
        yield _amounts("Instalments", event, old.get(event), new.get(event))


def _said(group: str, label: str, first: str, second: str) -> CompareRow:
    return CompareRow(group, label, first, second, "")


def _amounts(group: str, label: str, first: Decimal | None, second: Decimal | None) -> CompareRow:
    difference = ""
    if first is not None and second is not None and first != second:
        difference = f"{second - first:+,.2f}"
    shown = ["not in it" if one is None else f"{one:,.2f}" for one in (first, second)]
    return CompareRow(group, label, *shown, difference)
