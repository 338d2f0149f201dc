"""A quote as answers show it: what the client may see of it, and what the office sees beside that."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any

from catalog.core.ground.declared import (
    Amount,
    As,
    Choice,
    Declared,
    Document,
    Mapped,
    Of,
    Part,
    View,
    itself,
    write,
)
from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import System
from jobs.core.measure.findings import ShownFinding
from quoting.core.prices.checklist import ChecklistEntry
from quoting.core.prices.costs import CostLine
from quoting.core.prices.payments import Deposit
from quoting.core.prices.tax import PriceLine
from quoting.core.quotes.firm_texts import QuoteTexts
from quoting.core.quotes.quote_sheet import QuoteSheet
from quoting.core.quotes.scope import TrimScope
from quoting.core.quotes.work_up import WorkUp

Money = Annotated[Decimal, Amount()]
ByCategory = Annotated[Any, Mapped(Amount())]


class TaxShown(View):
    """The tax of a quote; its amounts are empty while it is not priced."""

    name: Annotated[str, Of("pricing.tax.name")]
    rate: Annotated[Decimal, Of("pricing.tax.rate")]
    applies_to: Annotated[str, Of("pricing.tax.applies_to")]
    basis: Annotated[str, Of("pricing.tax.basis")]
    exempt_certificate: str | None
    taxed: Annotated[Money | None, Of("priced.taxed")]
    amount: Annotated[Money | None, Of("priced.tax")]


def _share(share: Decimal | Fraction) -> str:
    return str(share) if isinstance(share, Fraction) else plain(share) or "0"


class InstalmentShown(View):
    """A part of the total, as a share or a fraction of it."""

    event: str
    share: Annotated[str, Of(lambda due: _share(due.share))]
    amount: Money
    to_pay: Money


class OptionShown(View):
    """What the client may choose."""

    key: str
    title: str
    text: str
    group: str
    price: Money


class AllowanceShown(View):
    """A sum in the price for what is not chosen yet."""

    what: str
    amount: Money
    sentence: Annotated[str, Of(lambda allowance: allowance.sentence(f"{allowance.amount:,}"))]


class NoticeShown(View):
    """The notice a quote carries."""

    place: str
    language: str
    version: str
    title: str
    text: str


class ClientPart(View):
    """What the client may see of a quote: trim, price, tax, instalments and texts; no cost, no margin."""

    trim: tuple[TrimScope, ...]
    lines: Annotated[tuple[PriceLine, ...], Of(lambda quote: quote.priced.lines if quote.priced else ())]
    price: Annotated[Money | None, Of("priced.price")]
    tax: Annotated[TaxShown, Of(itself)]
    total: Annotated[Money | None, Of("priced.total")]
    instalments: Annotated[
        tuple[InstalmentShown, ...], Of(lambda quote: quote.priced.instalments if quote.priced else ())
    ]
    options: tuple[OptionShown, ...]
    allowances: Annotated[tuple[AllowanceShown, ...], Of("pricing.terms.allowances")]
    deposit: Annotated[Money | None, Of("deposit.amount")]
    texts: Annotated[QuoteTexts, As(spread=True)]
    notice: NoticeShown | None


class OptionCost(View):
    """What an option costs the firm."""

    key: str
    taxed: Money
    cost: Money | None
    special_order_cost: Money


def _margin(quote: QuoteSheet) -> str | None:
    return None if quote.priced is None else str(round(quote.priced.margin, 6))


class OfficePart(View):
    """For the desk. Margin, prices by category and explanations are left out for roles that see no margin."""

    costs: tuple[CostLine, ...]
    cost: Annotated[Money | None, Of("priced.cost")]
    cost_by_category: Annotated[ByCategory | None, Of("priced.cost_by_category")]
    price_by_category: Annotated[ByCategory | None, As(withheld="margins"), Of("priced.price_by_category")]
    margin: Annotated[str | None, As(withheld="margins"), Of(_margin)]
    explanations: Annotated[
        tuple[str, ...],
        As(withheld="margins"),
        Of(lambda quote: quote.priced.explanations if quote.priced else ()),
    ]
    options: tuple[OptionCost, ...]
    checklist: tuple[Annotated[ChecklistEntry, Part("ChecklistEntry", write)], ...]
    deposit: Deposit | None


class QuotedShown(View):
    """The quote; figures are empty while it is not priced, and the findings say why."""

    job: Annotated[str, Of("read.job.key")]
    title: Annotated[str, Of("read.job.title")]
    client: Annotated[str, Of("read.job.client.name")]
    currency: Annotated[str, Of("read.book.firm.currency")]
    priced: Annotated[bool, Of(lambda work_up: work_up.quote.priced is not None)]
    quoted_on: Annotated[date, Of("quote.quoted_on")]
    valid_until: Annotated[date, Of("quote.valid_until")]
    quote: Annotated[QuoteSheet, Declared(ClientPart), As(spread=True)]
    office: Annotated[OfficePart, As(withheld="costs"), Of("quote")]
    findings: Annotated[tuple[ShownFinding, ...], Of("quote.findings")]


class UnpricedShown(View):
    """A job without pricing."""

    job: Annotated[str, Of("read.job.key")]
    title: Annotated[str, Of("read.job.title")]
    priced: Annotated[bool, Choice((False,)), Of(lambda work_up: False)]
    findings: Annotated[tuple[ShownFinding, ...], Of(lambda work_up: ())]


def quote_view(work_up: WorkUp) -> type[View]:
    return UnpricedShown if work_up.quote is None else QuotedShown


def quote_document(work_up: WorkUp) -> Document:
    """The quote with what the office may see: costs, margin, and what stands in the way of issuing it."""
    return write(work_up, quote_view(work_up), system=work_up.read.book.firm.display_units)


def client_part(quote: QuoteSheet, system: System) -> Document:
    """What the client may see of a quote."""
    return write(quote, ClientPart, system=system)
