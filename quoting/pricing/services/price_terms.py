"""Overhead, contingency, allowances, options and the checklist of a pricing as rows."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from catalog.core.ground.document_reader import DocumentProblem
from catalog.services.row_sync import Figures, sync_rows
from jobs.core.measure.brought_in import BroughtIn
from quoting.core.prices.checklist import ChecklistEntry
from quoting.core.prices.price_terms import PriceTerms
from quoting.core.prices.variants import changes_document
from quoting.platform.models.bounds import MAX_MONEY
from quoting.platform.models.brought_in import brought_figures
from quoting.platform.models.columns import MILLIONTH
from quoting.platform.people.signatures import Signature
from quoting.pricing.models.pricing import Pricing


def head_terms(terms: PriceTerms) -> Figures:
    overhead, contingency = terms.overhead, terms.contingency
    return {
        "overhead_share": overhead.share_of_cost if overhead else None,
        "overhead_per_hour": overhead.per_labour_hour if overhead else None,
        "contingency_share": contingency.share if contingency else None,
        "contingency_shown": bool(contingency and contingency.shown),
    }


def store_price_terms(pricing: Pricing, terms: PriceTerms, signature: Signature | None) -> None:
    owner = {"pricing": pricing}
    stored = [row.to_core() for row in pricing.checklist.all()]
    checklist = signed_entries(terms.checklist, stored, signature)
    sync_rows(pricing.allowances.all(), _allowances(terms), key=("what",), owner=owner)
    sync_rows(pricing.options.all(), _options(terms), key=("key",), owner=owner)
    sync_rows(pricing.checklist.all(), _checklist(checklist), key=("item",), owner=owner)


def with_signature(document: dict[str, Any], signature: Signature | None) -> dict[str, Any]:
    """A pricing as it came, each dismissal without a name signed: who types it need not type who types."""
    entries = document.get("checklist")
    if signature is None or not isinstance(entries, list):
        return document
    name = {"by": signature.by, "on": signature.on.isoformat()}
    signed = [
        {**entry, **name}
        if isinstance(entry, dict) and entry.get("answer") == "dismissed" and not entry.get("by")
        else entry
        for entry in entries
    ]
    return {**document, "checklist": signed}


def signed_entries(
    entries: Sequence[ChecklistEntry], stored: Iterable[ChecklistEntry], signature: Signature | None
) -> tuple[ChecklistEntry, ...]:
    """The checklist as it may be kept: a dismissal that stands keeps its name, any other is signed anew."""
    if signature is None:
        return tuple(entries)
    standing = {(entry.item, entry.reason): entry for entry in stored if entry.answer == "dismissed"}
    return tuple(_signed(entry, standing.get((entry.item, entry.reason)), signature) for entry in entries)


def _signed(entry: ChecklistEntry, standing: ChecklistEntry | None, signature: Signature) -> ChecklistEntry:
    if entry.answer != "dismissed":
        return replace(entry, reason="", by="", on="")
    if signature.brings_file:
        is_same = standing is not None and (standing.by, standing.on) == (entry.by, entry.on)
        came = standing.brought_in if standing and is_same else BroughtIn(signature.by, signature.on)
        return replace(entry, brought_in=came)
    return standing or replace(entry, by=signature.by, on=signature.on.isoformat())


def _allowances(terms: PriceTerms) -> Iterator[Figures]:
    for place, allowance in enumerate(terms.allowances):
        yield {
            "order": place,
            "what": allowance.what,
            "amount": allowance.amount,
            "category": allowance.category,
            "cost": allowance.cost,
            "over_markup": allowance.over_markup,
        }


def _options(terms: PriceTerms) -> Iterator[Figures]:
    for place, option in enumerate(terms.options):
        yield {
            "order": place,
            "key": option.key,
            "title": option.title,
            "text": option.text,
            "group": option.group,
            "price": option.price,
            "cost": option.cost,
            "materials_price": option.materials_price,
            "special_order_cost": option.special_order_cost,
            "build": None if option.build is None else changes_document(option.build),
        }


def _checklist(entries: Iterable[ChecklistEntry]) -> Iterator[Figures]:
    for place, entry in enumerate(entries):
        yield {
            "order": place,
            "item": entry.item,
            "answer": entry.answer,
            "where": entry.where,
            "reason": entry.reason,
            "by": entry.by,
            "on": entry.on or None,
            **brought_figures(entry.brought_in),
        }


def terms_too_fine(terms: PriceTerms, path: str) -> Iterator[DocumentProblem]:
    figures: dict[str, Decimal | None] = {
        "overhead.share_of_cost": terms.overhead.share_of_cost if terms.overhead else None,
        "contingency.share": terms.contingency.share if terms.contingency else None,
        **{
            f"allowances[{place}].over_markup": allowance.over_markup
            for place, allowance in enumerate(terms.allowances)
        },
    }
    for name, value in figures.items():
        if value is not None and value != value.quantize(MILLIONTH):
            yield DocumentProblem(f"{path}{name}", f"{value} has more than six decimals")


def terms_too_large(terms: PriceTerms, path: str) -> Iterator[DocumentProblem]:
    amounts: dict[str, Decimal | None] = {}
    for place, allowance in enumerate(terms.allowances):
        amounts |= {f"allowances[{place}].amount": allowance.amount, f"allowances[{place}].cost": allowance.cost}
    for place, option in enumerate(terms.options):
        for name in ("price", "cost", "materials_price", "special_order_cost"):
            amounts[f"options[{place}].{name}"] = getattr(option, name)
    for name, amount in amounts.items():
        if amount is not None and abs(amount) > MAX_MONEY:
            yield DocumentProblem(f"{path}{name}", f"{amount:,} is too large; at most {MAX_MONEY:,}")
