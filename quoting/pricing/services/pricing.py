"""How a job is priced: stored, changed, read back, and filled from the firm's usual way."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Prefetch

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError
from catalog.services.row_sync import save_if_changed, sync_rows
from catalog.services.typed_money import entry_reader
from jobs.jobs.models import Job
from jobs.jobs.services.versions import next_version
from jobs.needs.services.schedule_refresh import ask_to_date
from quoting.core.prices.tax import TaxRule
from quoting.core.quotes.firm_texts import BLOCKS, NO_SENTENCES
from quoting.core.quotes.job_file import PricingSpec
from quoting.platform import clock
from quoting.platform.people.signatures import Signature
from quoting.platform.read_once import read_once
from quoting.pricing.models import CostEntry, DepositTerm, Pricing
from quoting.pricing.services.price_terms import in_order, store_price_terms, with_signature
from quoting.pricing.services.pricing_rows import (
    cost_figures,
    deposit_figures,
    head_figures,
    instalment_figures,
    refuse_what_cannot_be_kept,
    text_figures,
)
from quoting.pricing.services.rate_lookup import NOTHING_NAMED, NamedRate, by_name, with_rate_names
from quoting.pricing.services.taxes import labour_rates_by_name, tax_in_force

Document = dict[str, Any]


def pricing_of(job: Job | None) -> Pricing | None:
    """The job's pricing with its parts, or with None the firm's usual one; None when there is none. Once a page."""
    return read_once(("pricing", job.pk if job else None), lambda: _pricing(job))


def _pricing(job: Job | None) -> Pricing | None:
    costs = Prefetch("costs", CostEntry.objects.select_related("wall"))
    parts = ("instalments", "texts", "left_out", "allowances", "options", "checklist")
    rows = Pricing.objects.select_related("deposit").prefetch_related(costs, *parts)
    return rows.filter(job=job).first()


def spec_of(pricing: Pricing, on_day: date) -> tuple[PricingSpec, str]:
    """The pricing as it stands on the day, and what is missing of it in words, empty when nothing is.

    A tax that is only named has the rate of the day. While none is in force the rate in the spec means nothing.
    """
    tax = pricing.own_tax or tax_in_force(pricing.tax_name, on_day)
    rates = labour_rates_by_name(on_day)
    missing = [] if tax else [pricing.tax_name]
    missing += sorted(pricing.rate_names - set(rates))
    message = (
        f"No rate of {' nor of '.join(missing)} is in force on {day_words(on_day)}. Enter one with its first day, "
        "or give this job its own rate."
    )
    return pricing.to_core(tax or _only_named(pricing), rates), message if missing else ""


def _only_named(pricing: Pricing) -> TaxRule:
    """Stands where a rate is not looked up. Never priced with: what is missing is told beside it."""
    return TaxRule(pricing.tax_name, Decimal(0))


def pricing_document(pricing: Pricing, on_day: date) -> Document:
    """As a screen shows it and `save_pricing` takes it back; what is given by name is left as a name."""
    document = write(spec_of(pricing, on_day)[0])
    if pricing.own_tax is None:
        document["tax"] = {"name": pricing.tax_name}
    return with_rate_names(document, pricing)


@transaction.atomic
def store_pricing(
    job: Job | None,
    spec: PricingSpec,
    *,
    names: NamedRate = NOTHING_NAMED,
    seen_version: int | None = None,
    path: str = "pricing.",
    signature: Signature | None = None,
) -> Pricing:
    """Make the pricing of the job (of the firm, with None) exactly this, or nothing.

    names: what is kept by its name, to have the rate of the day. signature: who signs each dismissal on the
    checklist that does not stand already; None keeps the names given.
    Refused with ChangedMeanwhile when it is no longer at `seen_version`; None asks for no version.
    """
    walls: Mapping[str, int] = dict(job.walls.values_list("name", "pk")) if job else {}
    refuse_what_cannot_be_kept(spec, walls, path)
    pricing = Pricing.objects.filter(job=job).first()
    figures = head_figures(spec, names)
    if pricing is None:
        pricing = Pricing(job=job)
    else:
        next_version(pricing, seen_version)
    save_if_changed(pricing, figures)
    owner = {"pricing": pricing}
    sync_rows(pricing.costs.all(), cost_figures(spec, walls, names), owner=owner)
    sync_rows(pricing.instalments.all(), in_order(map(instalment_figures, spec.instalments)), owner=owner)
    sync_rows(pricing.texts.all(), text_figures(spec), key=("block", "order"), owner=owner)
    sync_rows(pricing.left_out.all(), in_order({"key": key} for key in spec.left_out), key=("key",), owner=owner)
    store_price_terms(pricing, spec.terms, signature)
    deposits = [deposit_figures(spec.deposit)] if spec.deposit else []
    sync_rows(DepositTerm.objects.filter(pricing=pricing), deposits, owner=owner)
    if job is not None:
        # What stands before sending is found by a work-up.
        ask_to_date([job.pk], clock.now())
    return pricing


def save_pricing(
    job: Job | None,
    document: Document,
    *,
    seen_version: int | None,
    on_day: date,
    signature: Signature | None = None,
) -> Pricing:
    """The pricing as a screen or the API gives it: the `pricing` part of a job file.

    `tax` may give only a name, and labour `rate_of` in place of `rate`: the rate in force on the day of the quote is
    then taken. job None: the firm's.
    """
    document, names = by_name(with_signature(document, signature), on_day)
    spec = read(PricingSpec, entry_reader(document))
    if job is None and spec.texts != NO_SENTENCES:
        block = next(word for word in BLOCKS if spec.texts.of(word))
        raise DocumentError.at(block, "the firm's standing sentences are kept with its texts, each with its first day")
    if job is None and spec.costs:
        raise DocumentError.at("labour", "the firm's usual pricing holds no costs; they belong to a job")
    return store_pricing(job, spec, names=names, seen_version=seen_version, path="", signature=signature)


@transaction.atomic
def fill_from_usual(job: Job) -> Pricing:
    """Give a job without pricing the firm's usual one; the one it has is left as it is."""
    present = Pricing.objects.filter(job=job).first()
    if present is not None:
        return present
    usual = pricing_of(None)
    if usual is None:
        raise DocumentError.at("pricing", "the firm's usual pricing is not entered yet; enter it, or price this job")
    spec = usual.to_core(usual.own_tax or _only_named(usual), {})
    names = NamedRate("" if usual.own_tax else usual.tax_name, usual.hour_rate_name)
    return store_pricing(job, replace(spec, costs=()), names=names)
