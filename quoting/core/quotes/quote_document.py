"""A quote as a JSON value: what the client may see of it, and what the office sees beside that."""

from __future__ import annotations

from dataclasses import asdict
from decimal import Decimal
from fractions import Fraction
from typing import Any

from catalog.core.ground.lengths import length
from catalog.core.ground.plain_text import money, plain
from catalog.core.ground.units import System
from quoting.core.quotes.firm_texts import BLOCKS, NoticePack
from quoting.core.quotes.quote_sheet import QuoteSheet
from quoting.core.quotes.work_up import WorkUp

Document = dict[str, Any]


def quote_document(work_up: WorkUp) -> Document:
    """The quote with what the office may see: costs, margin, and what stands in the way of issuing it."""
    quote = work_up.quote
    if quote is None:
        return {"job": work_up.read.job.key, "title": work_up.read.job.title, "priced": False, "findings": []}
    return {
        "job": work_up.read.job.key,
        "title": work_up.read.job.title,
        "client": work_up.read.job.client.name,
        "currency": work_up.read.book.firm.currency,
        "priced": quote.priced is not None,
        "quoted_on": quote.quoted_on.isoformat(),
        "valid_until": quote.valid_until.isoformat(),
        **client_part(quote, work_up.read.book.firm.display_units),
        "office": _office_part(quote),
        "findings": [asdict(finding) for finding in quote.findings],
    }


def client_part(quote: QuoteSheet, system: System) -> Document:
    """What the client may see of a quote: scope, trim, price, tax, instalments and texts; no cost, no margin."""
    priced, tax, texts = quote.priced, quote.pricing.tax, quote.texts
    return {
        "scope": [{"wall": wall.name, "sentences": list(wall.sentences)} for wall in quote.walls],
        "trim": [
            {
                "wall": row.wall,
                "face": row.face,
                "profile": row.profile,
                "curve": row.curve,
                "radius": None if row.radius_mm is None else length(row.radius_mm, system),
                "length": length(row.length_mm, system),
                "note": row.note,
                "bends": [
                    {
                        "side": bend.side,
                        "radius": None if bend.radius_mm is None else length(bend.radius_mm, system),
                    }
                    for bend in row.bends
                ],
            }
            for row in quote.trim
        ],
        "lines": []
        if priced is None
        else [{"what": line.section, "price": money(line.price)} for line in priced.lines],
        "price": money(priced.price) if priced else None,
        "tax": {
            "name": tax.name,
            "rate": plain(tax.rate),
            "applies_to": tax.applies_to,
            "basis": tax.basis,
            "exempt_certificate": quote.exempt_certificate,
            "taxed": money(priced.taxed) if priced else None,
            "amount": money(priced.tax) if priced else None,
        },
        "total": money(priced.total) if priced else None,
        "instalments": []
        if priced is None
        else [
            {
                "event": due.event,
                "share": _share(due.share),
                "amount": money(due.amount),
                "to_pay": money(due.to_pay),
            }
            for due in priced.instalments
        ],
        "options": [
            {
                "key": option.key,
                "title": option.title,
                "text": option.text,
                "group": option.group,
                "price": money(option.price),
            }
            for option in quote.options
        ],
        "allowances": [
            {
                "what": allowance.what,
                "amount": money(allowance.amount),
                "sentence": allowance.sentence(f"{allowance.amount:,}"),
            }
            for allowance in quote.pricing.terms.allowances
        ],
        "deposit": money(quote.deposit.amount) if quote.deposit else None,
        **{block: list(texts.of(block)) for block in BLOCKS},
        "notice": None if quote.notice is None else _notice(quote.notice),
    }


def _notice(notice: NoticePack) -> Document:
    return {
        "place": notice.place,
        "language": notice.language,
        "version": notice.version,
        "title": notice.title,
        "text": notice.text,
    }


def _office_part(quote: QuoteSheet) -> Document:
    priced = quote.priced
    return {
        "costs": [
            {
                "category": cost.category,
                "what": cost.what,
                "quantity": plain(cost.quantity),
                "unit": cost.unit,
                "unit_cost": plain(cost.unit_cost),
                "cost": money(cost.cost),
                "wall": cost.section,
            }
            for cost in quote.costs
        ],
        "cost": money(priced.cost) if priced else None,
        "cost_by_category": {c: money(v) for c, v in priced.cost_by_category.items()} if priced else None,
        "price_by_category": {c: money(v) for c, v in priced.price_by_category.items()} if priced else None,
        "margin": None if priced is None or priced.margin is None else str(round(priced.margin, 6)),
        "explanations": list(priced.explanations) if priced else [],
        "options": [
            {
                "key": option.key,
                "taxed": money(option.taxed),
                "cost": money(option.cost),
                "special_order_cost": money(option.special_order_cost),
            }
            for option in quote.options
        ],
        "checklist": [
            {
                "item": entry.item,
                "answer": entry.answer or None,
                "where": entry.where,
                "reason": entry.reason,
                "by": entry.by,
                "on": entry.on or None,
            }
            for entry in quote.checklist
        ],
        "deposit": None
        if quote.deposit is None
        else {
            "amount": money(quote.deposit.amount),
            "special_order_cost": money(quote.deposit.special_order_cost),
            "explanation": quote.deposit.explanation,
            "warnings": list(quote.deposit.warnings),
        },
    }


def _share(share: Decimal | Fraction) -> str:
    return str(share) if isinstance(share, Fraction) else plain(share) or "0"
