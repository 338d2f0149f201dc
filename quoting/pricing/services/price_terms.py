"""Overhead, contingency, allowances, options and the checklist of a pricing as rows."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from catalog.services.row_sync import Figures, sync_rows
from jobs.core.measure.brought_in import BroughtIn
from quoting.core.prices.checklist import ChecklistEntry
from quoting.core.prices.options import OptionSpec
from quoting.core.prices.price_terms import PriceTerms
from quoting.core.prices.variants import changes_document
from quoting.platform.models.brought_in import brought_figures
from quoting.platform.models.core_values import column_values
from quoting.platform.people.signatures import Signature
from quoting.pricing.models import ChecklistAnswer, Pricing
from quoting.pricing.models.allowances import AllowanceEntry
from quoting.pricing.models.options import OptionEntry


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
    allowances = [column_values(allowance, AllowanceEntry) for allowance in terms.allowances]
    sync_rows(pricing.allowances.all(), in_order(allowances), key=("what",), owner=owner)
    sync_rows(pricing.options.all(), in_order(map(_option, terms.options)), key=("key",), owner=owner)
    sync_rows(pricing.checklist.all(), in_order(map(_checklist, checklist)), key=("item",), owner=owner)


def in_order(rows: Iterable[Figures]) -> list[Figures]:
    return [{"order": place, **figures} for place, figures in enumerate(rows)]


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


def _checklist(entry: ChecklistEntry) -> Figures:
    return column_values(entry, ChecklistAnswer, on=entry.on or None, **brought_figures(entry.brought_in))


def _option(option: OptionSpec) -> Figures:
    build = None if option.build is None else changes_document(option.build)
    return column_values(option, OptionEntry, build=build)
