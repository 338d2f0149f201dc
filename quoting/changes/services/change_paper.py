"""Fills the paper of a change note. Nothing here reads a cost or a margin."""

from collections.abc import Iterator
from datetime import date

from quoting.changes.papers.change_sheet import ChangePaper
from quoting.changes.services.contracts import Contract
from quoting.core.changes.change_document import ChangeSpec
from quoting.core.changes.change_notes import PricedChange
from quoting.core.prices.tax import TaxRule
from quoting.platform.formatting import day_words, money_words, share_words
from quoting.platform.papers.parts import Measure, PriceLine
from quoting.quotes.services.snapshots import frozen_paper


def change_paper(
    change: ChangeSpec,
    priced: PricedChange,
    contract: Contract,
    *,
    number: int,
    tax: TaxRule,
    issued_on: date,
    prepared_by: str,
) -> ChangePaper:
    revision, currency = contract.revision, contract.currency
    agreed = frozen_paper(revision)
    total = money_words(priced.total, currency)
    return ChangePaper(
        number=str(number),
        quote_number=revision.quote.number,
        revision=str(revision.number),
        job_title=agreed.job_title,
        change_title=change.title,
        reason=change.reason,
        issued_on=day_words(issued_on),
        prepared_by=prepared_by,
        firm=agreed.firm,
        client=agreed.client,
        site_lines=agreed.site_lines,
        price_lines=tuple(PriceLine(line.what, money_words(line.price, currency)) for line in priced.lines),
        net_price=money_words(priced.price, currency),
        tax_line=_tax_line(priced, tax, currency),
        total=total,
        days=days_sentence(change.days_moved),
        contract=tuple(_contract(contract, priced, number)),
        original=change.original,
        replacement=change.replacement,
        acceptance=(
            f"We agree to change note {number} to quotation {revision.quote.number}, revision {revision.number}, "
            f"at {total} with tax.",
            "The work of this change begins once this note is signed; until then the contract stands without it.",
        ),
        sheet_size=agreed.sheet_size,
        language=agreed.language,
    )


def days_sentence(days_moved: int) -> str:
    if not days_moved:
        return "The days agreed do not move."
    count = f"{abs(days_moved)} working day{'' if abs(days_moved) == 1 else 's'}"
    return f"The work is done {count} {'later' if days_moved > 0 else 'sooner'} than agreed before."


def _tax_line(priced: PricedChange, tax: TaxRule, currency: str) -> PriceLine:
    amount = money_words(priced.tax, currency)
    if tax.exempt_certificate:
        return PriceLine(tax.name, amount, f"exempt, certificate {tax.exempt_certificate}")
    base = (
        "the price" if tax.applies_to == "price" else f"materials, {money_words(priced.taxed, currency)} of the price"
    )
    return PriceLine(f"{tax.name} {share_words(tax.rate)}", amount, f"on {base}")


def _contract(contract: Contract, priced: PricedChange, number: int) -> Iterator[Measure]:
    sums, currency, revision = contract.sums, contract.currency, contract.revision
    accepted = f"Quotation {revision.quote.number}, revision {revision.number}, as accepted"
    yield Measure(accepted, money_words(sums.accepted, currency))
    if sums.signed:
        yield Measure("Change notes signed before this one", money_words(sums.signed, currency))
    yield Measure(f"Change note {number}", money_words(priced.total, currency))
    note = "Other notes that wait for a signature are not in it." if contract.waiting else ""
    yield Measure("Contract sum with this change", money_words(sums.total + priced.total, currency), note)
