"""What the client is offered: the base with its options priced, and the least margin held against any choice."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from catalog.core.ground.document_reader import DocumentError
from jobs.core.measure.findings import Finding
from quoting.core.prices.figures import PricingError
from quoting.core.prices.margin_gate import BelowLeast, below_least
from quoting.core.prices.options import Offer, OptionSpec, PricedOption
from quoting.core.prices.price_terms import NO_TERMS
from quoting.core.prices.pricing import PricedQuote
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.quote_sheet import QuoteSheet
from quoting.core.quotes.rebuilding import rebuild

GATE = "pricing/minimum-margin"
"""The finding that a second person answers; nothing in a document can."""

BuildSheet = Callable[[JobFile], QuoteSheet | None]


@dataclass(frozen=True)
class _Found:
    option: PricedOption | None
    findings: tuple[Finding, ...] = ()
    walls: tuple[str, ...] = ()


def offered(sheet: QuoteSheet, read: JobFile, sheet_of_build: BuildSheet) -> QuoteSheet:
    """Price the options of a quote and hold the whole against the least margin.

    sheet: the quote of the base. read: the job file it is of. sheet_of_build: works up the quote of the job built
    another way. Returns the quote with its options, its offer and its gate; an option that cannot be priced is a
    finding. While the base has no price, nothing is added.
    Source: own rule; an option that is a build costs what the job so built costs over the base.
    """
    priced = sheet.priced
    if priced is None:
        return sheet
    specs = sheet.pricing.terms.options
    results = [
        _fixed(spec, sheet) if spec.build is None else _built(spec, sheet, priced, read, sheet_of_build)
        for spec in specs
    ]
    findings = [finding for entry in results for finding in entry.findings]
    findings += _overlaps(specs, results)
    options = tuple(entry.option for entry in results if entry.option is not None)
    offer = None
    try:
        offer = offer_of(sheet, priced, options)
    except PricingError as error:
        findings.append(Finding("pricing/options", "gap", str(error)))
    least = sheet.pricing.policy.minimum_margin
    gate = None if least is None else below_least(priced.price, priced.cost, least, options)
    findings += _margins(options, least, gate)
    return replace(sheet, options=options, offer=offer, gate=gate, findings=(*sheet.findings, *findings))


def offer_of(sheet: QuoteSheet, priced: PricedQuote, options: tuple[PricedOption, ...]) -> Offer:
    """All that the total of a choice is worked out from.

    sheet: the quote. priced: its price. options: what may be ticked. Returns the offer; raises PricingError for
    options that could bring the price under 0.
    """
    return Offer(
        lines=priced.lines,
        tax=replace(sheet.pricing.tax, exempt_certificate=sheet.exempt_certificate or ""),
        options=options,
        instalments=sheet.pricing.instalments,
        deposit=sheet.pricing.deposit if sheet.deposit else None,
        special_order_cost=sheet.deposit.special_order_cost if sheet.deposit else Decimal("0.00"),
    )


def _fixed(spec: OptionSpec, sheet: QuoteSheet) -> _Found:
    price = spec.price or Decimal("0.00")
    taxed: Decimal | None = price
    if sheet.exempt_certificate:
        taxed = Decimal("0.00")
    elif sheet.pricing.tax.applies_to == "materials":
        taxed = spec.materials_price
    if taxed is None:
        message = f'Option "{spec.title}": the tax is on materials only; say which part of its price is for materials.'
        return _Found(None, (Finding(f"pricing/options/{spec.key}/materials", "gap", message),))
    option = PricedOption(spec.key, spec.title, price, taxed, spec.group, spec.text, spec.cost, spec.special_order_cost)
    return _Found(option)


def _built(spec: OptionSpec, sheet: QuoteSheet, base: PricedQuote, read: JobFile, sheet_of_build: BuildSheet) -> _Found:
    key = f"pricing/options/{spec.key}"
    assert spec.build is not None and read.pricing is not None
    bare = replace(read, pricing=replace(read.pricing, terms=replace(read.pricing.terms, options=NO_TERMS.options)))
    try:
        rebuilt = rebuild(bare, spec.build)
    except DocumentError as error:
        message = "; ".join(str(complaint) for complaint in error.complaints)
        return _Found(None, (Finding(f"{key}/build", "gap", f'Option "{spec.title}" cannot be built: {message}.'),))
    if not rebuilt.walls:
        message = f'Option "{spec.title}" is the build as it stands; change it or leave it out.'
        return _Found(None, (Finding(f"{key}/build", "gap", message),))
    built = sheet_of_build(rebuilt.read)
    known = {finding.key for finding in sheet.findings}
    findings = (
        ()
        if built is None
        else tuple(
            Finding(f"{key}/{finding.key}", finding.weight, f'Option "{spec.title}": {finding.sentence}')
            for finding in built.blocking
            if finding.key not in known and finding.key != GATE
        )
    )
    if built is None or built.priced is None:
        message = f'Option "{spec.title}" has no price yet: something is missing in the job built so.'
        return _Found(None, findings or (Finding(f"{key}/price", "gap", message),), rebuilt.walls)
    special = Decimal("0.00")
    if built.deposit is not None and sheet.deposit is not None:
        special = built.deposit.special_order_cost - sheet.deposit.special_order_cost
    option = PricedOption(
        spec.key,
        spec.title,
        built.priced.price - base.price,
        built.priced.taxed - base.taxed,
        spec.group,
        spec.text,
        built.priced.cost - base.cost,
        special,
    )
    return _Found(option, findings, rebuilt.walls)


def _overlaps(specs: tuple[OptionSpec, ...], overlaps: list[_Found]) -> Iterator[Finding]:
    """Two builds of one wall that can both be ticked: neither price would hold for the two together."""
    for place, (spec, entry) in enumerate(zip(specs, overlaps, strict=True)):
        for other, another in zip(specs[:place], overlaps[:place], strict=True):
            both = set(entry.walls) & set(another.walls)
            if both and (not spec.group or spec.group != other.group):
                message = (
                    f'Options "{other.title}" and "{spec.title}" both change {", ".join(sorted(both))}: their prices '
                    "do not add up. Put them in one group, so that one of them is chosen."
                )
                yield Finding(f"pricing/options/{spec.key}/{other.key}", "decide", message)


def _margins(options: tuple[PricedOption, ...], least: Decimal | None, gate: BelowLeast | None) -> Iterator[Finding]:
    for option in options:
        if option.cost is None:
            message = f'Option "{option.title}" has no cost, so nobody can say what is earned with it; enter one.'
            yield Finding(f"pricing/options/{option.key}/cost", "caution" if least is None else "gap", message)
    if gate is not None:
        yield Finding(GATE, "decide", gate_sentence(gate))


def gate_sentence(gate: BelowLeast) -> str:
    """What stands against issuing a quote below the least margin, without a figure: not all who read it see margins.

    gate: how far it is below. Returns a sentence.

    >>> gate_sentence(BelowLeast(Decimal("0.3"), Decimal("0.25"), Decimal("71.43")))[:48]
    "The margin is below the firm's least margin. A s"
    """
    with_options = "With some choice of options the margin is" if gate.with_options else "The margin is"
    return (
        f"{with_options} below the firm's least margin. A second person approves it with a reason, or the price is "
        "changed."
    )
