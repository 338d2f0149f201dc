"""What was offered side by side: two revisions, or the last one and what would be issued today."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from catalog.core.ground.plain_text import half_up
from quoting.core.quotes.work_up import WorkUp
from quoting.platform.screen_days import day_words
from quoting.quotes.models import QuoteRevision
from quoting.quotes.papers.sheets import QuotePaper
from quoting.quotes.services.quote_paper import QuoteHead, quote_paper
from quoting.quotes.services.snapshots import frozen_paper

NOT_IN_IT = "not in it"


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


@dataclass(frozen=True)
class Offered:
    """One side of the comparison. amounts, lines, instalments: by name; texts: sentences of the paper by heading."""

    words: Mapping[str, str]
    amounts: Mapping[str, Decimal]
    cost: Decimal
    margin: Decimal
    lines: Mapping[str, Decimal]
    instalments: Mapping[str, Decimal]
    texts: Mapping[str, tuple[str, ...]]


def offered_by(revision: QuoteRevision) -> Offered:
    parts = revision.lines.all(), revision.instalments.all(), frozen_paper(revision)
    return _offered(revision, revision, revision.get_state_display(), *parts)


def offered_today(work_up: WorkUp) -> Offered:
    """Of a job that is priced."""
    quote = work_up.quote
    assert quote is not None and quote.priced is not None
    paper = quote_paper(work_up, QuoteHead("-", "-", "-"), cover=False, sheets=False)
    return _offered(quote.priced, quote, "Not issued", quote.priced.lines, quote.priced.instalments, paper)


def _offered(
    figures: Any, days: Any, standing: str, lines: Iterable[Any], instalments: Iterable[Any], paper: QuotePaper
) -> Offered:
    said = {"Quoted on": day_words(days.quoted_on), "Valid until": day_words(days.valid_until), "Standing": standing}
    return Offered(
        said,
        {"Price": figures.price, "Tax": figures.tax, "Total": figures.total},
        figures.cost,
        figures.margin,
        {line.section: line.price for line in lines},
        {due.event: due.amount for due in instalments},
        {wall.name: wall.scope for wall in paper.walls} | {part.heading: part.items for part in paper.terms},
    )


def compared(first: Offered, second: Offered, with_margin: bool) -> list[CompareRow]:
    return [
        *_totals(first, second, with_margin),
        *_pairs("Lines of the price", first.lines, second.lines),
        *_pairs("Instalments", first.instalments, second.instalments),
        *_sentences(first, second),
    ]


def changed_since(last: QuoteRevision, work_up: WorkUp) -> list[CompareRow]:
    """What differs from the revision before, so that nobody sends a change unread."""
    if work_up.quote is None or work_up.quote.priced is None:
        return []
    rows = compared(offered_by(last), offered_today(work_up), with_margin=True)
    return [row for row in rows if row.differs and row.label != "Standing"]


def _totals(first: Offered, second: Offered, with_margin: bool) -> Iterator[CompareRow]:
    for label, text in first.words.items():
        yield CompareRow("The quote", label, text, second.words[label], "")
    for label, amount in first.amounts.items():
        yield _amounts("The quote", label, amount, second.amounts[label])
    yield _amounts("For the office", "Cost", first.cost, second.cost)
    if with_margin:
        margins = [f"{half_up(offered.margin * 100, 2)} %" for offered in (first, second)]
        yield CompareRow("For the office", "Margin", *margins, "")


def _pairs(group: str, old: Mapping[str, Decimal], new: Mapping[str, Decimal]) -> Iterator[CompareRow]:
    for name in dict.fromkeys([*old, *new]):
        yield _amounts(group, name, old.get(name), new.get(name))


def _sentences(first: Offered, second: Offered) -> Iterator[CompareRow]:
    """Only those that stand in one of the two: what both say needs no reading."""
    for heading in dict.fromkeys([*first.texts, *second.texts]):
        old, new = first.texts.get(heading, ()), second.texts.get(heading, ())
        for sentence in dict.fromkeys([*old, *new]):
            if (sentence in old) != (sentence in new):
                sides = ["in it" if sentence in side else NOT_IN_IT for side in (old, new)]
                yield CompareRow(f"Texts: {heading}", sentence, *sides, "")


def _amounts(group: str, label: str, first: Decimal | None, second: Decimal | None) -> CompareRow:
    difference = ""
    if first is not None and second is not None and first != second:
        difference = f"{second - first:+,.2f}"
    shown = [NOT_IN_IT if amount is None else f"{amount:,.2f}" for amount in (first, second)]
    return CompareRow(group, label, *shown, difference)
