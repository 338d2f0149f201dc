"""A whole job file: catalog, job, walls and how the job is priced, in one JSON document, read and written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import partial
from typing import Any, TypeVar

from catalog.core.ground.declared import Document, read, write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader, gather, read_all
from catalog.core.ground.typed_marks import MoneyMarks
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.firm_document import FirmWithStandards
from catalog.core.materials.offers import sellers_of
from catalog.core.materials.specs import Material, Supplier
from jobs.core.ordering.job_work_up import JobInputs
from jobs.core.schedule.job_document import read_job, write_job
from quoting.core.prices.costs import CATEGORIES, MAX_QUANTITY, Category, CostLine, cost_line
from quoting.core.prices.figures import PricingError
from quoting.core.prices.payments import DepositRule, Instalment
from quoting.core.prices.price_terms import NO_TERMS, PriceTerms, read_terms, write_terms
from quoting.core.prices.pricing import PricingMode, PricingPolicy
from quoting.core.prices.tax import TaxBasis, TaxedPart, TaxRule
from quoting.core.quotes.firm_texts import (
    BLOCKS,
    NO_SENTENCES,
    NO_TEXTS,
    FirmTexts,
    NoticeChoice,
    QuoteTexts,
    read_firm_texts,
    read_left_out,
    read_notice_choice,
    write_firm_texts,
)

T = TypeVar("T")
FORMAT = "curved-wall-job/1"
MAX_VALID_DAYS = 365
MODES: tuple[PricingMode, ...] = ("margin", "markup")
TAXED_PARTS: tuple[TaxedPart, ...] = ("price", "materials")
TAX_BASES: tuple[TaxBasis, ...] = ("document", "line")
_COST_LISTS: tuple[Category, ...] = ("subcontract", "other")


@dataclass(frozen=True)
class PricingSpec:
    """How one job is priced.

    policy: margin or markup. tax: name, rate and basis; the certificate of an exempt client comes from the client.
    entered_materials: cost of materials entered instead of the takeoff's, with a note; None takes the takeoff's.
    costs: labour, subcontract and other lines. valid_days: calendar days from issue, 1 to 365.
    hour_cost: cost of one hour of the walls' own hours, step by step; None leaves those hours out of the cost.
    texts: this job's own sentences, beside the firm's standing ones. left_out: keys of standing sentences that do
    not go on this quote. notice: place and language of the notice it carries, None for none.
    terms: overhead, contingency, allowances, options and the checklist of what gets forgotten.
    """

    policy: PricingPolicy
    tax: TaxRule
    entered_materials: Decimal | None = None
    materials_note: str = ""
    costs: tuple[CostLine, ...] = ()
    instalments: tuple[Instalment, ...] = ()
    deposit: DepositRule | None = None
    special_order_cost: Decimal | None = None
    valid_days: int = 30
    texts: QuoteTexts = NO_SENTENCES
    hour_cost: Decimal | None = None
    left_out: tuple[str, ...] = ()
    notice: NoticeChoice | None = None
    terms: PriceTerms = NO_TERMS


@dataclass(frozen=True)
class JobFile(JobInputs):
    """Everything one job is worked up and priced from.

    pricing: None when the file does not price the job. texts: the firm's standing sentences and notices.
    """

    pricing: PricingSpec | None = None
    texts: FirmTexts = NO_TEXTS


def _built(reader: Reader, name: str, make: Callable[[], T]) -> T:
    try:
        return make()
    except PricingError as error:
        raise reader.error(name, str(error)) from error


def read_job_file(document: Any, catalog: Catalog | None = None) -> JobFile:
    """Read a whole job file.

    document: the JSON value. catalog: what stands behind the file: materials and suppliers it does not hold
    itself, and the firm when it names none. Returns the file's core values; raises DocumentError with every
    complaint found, each with its path.

    >>> read_job_file({"format": "something else"})
    Traceback (most recent call last):
        ...
    catalog.core.ground.document_reader.DocumentError: format: "something else" is not one of curved-wall-job/1
    """
    bare = Reader(document)
    bare.choice("format", (FORMAT,))
    reader = Reader(document, "", bare.choice("units", ("in", "mm"), "in"), _marks(document, catalog))
    for name in ("format", "units", "description"):
        reader.pass_over(name)
    result: dict[str, Any] = {"pricing": None, "texts": NO_TEXTS}

    def book() -> None:
        result["book"] = read_book(reader, catalog)

    def job() -> None:
        result["job"] = read_job(reader)

    def pricing() -> None:
        inner = reader.optional_object("pricing")
        if inner is not None:
            result["pricing"] = read_pricing(inner)

    def texts() -> None:
        inner = reader.optional_object("texts")
        if inner is not None:
            result["texts"] = read_firm_texts(inner)

    gather((book, job, pricing, texts))
    reader.finish()
    read = JobFile(result["book"], result["job"], result["pricing"], result["texts"])
    complaints = (*_unknown_sections(read), *_unknown_suppliers(read.book), *_unknown_sellers(read))
    if complaints:
        raise DocumentError(complaints)
    return read


def _marks(document: Any, catalog: Catalog | None) -> MoneyMarks:
    firm = document.get("firm")
    known = catalog.firm.currency if catalog else ""
    return MoneyMarks(str(firm.get("currency", known) if isinstance(firm, dict) else known))


def _unknown_sections(read: JobFile) -> list[DocumentProblem]:
    names = {wall.name for wall in read.job.walls}
    costs = read.pricing.costs if read.pricing else ()
    return [
        DocumentProblem("pricing", f'"{cost.what}" belongs to wall "{cost.section}", which the job does not have')
        for cost in costs
        if cost.section and cost.section not in names
    ]


def _unknown_sellers(read: JobFile) -> list[DocumentProblem]:
    return [
        DocumentProblem(f"job.dates[{place}].supplier", f'"{item.supplier}" is not among the suppliers')
        for place, item in enumerate(read.job.dates)
        if item.supplier is not None and item.supplier not in read.book.suppliers
    ]


def _unknown_suppliers(book: Catalog) -> list[DocumentProblem]:
    return [
        DocumentProblem(f"materials ({code})", f'supplier "{supplier}" is not among the suppliers')
        for code, material in book.materials.items()
        for supplier in sellers_of(material)
        if supplier not in book.suppliers
    ]


def read_book(reader: Reader, catalog: Catalog | None) -> Catalog:
    """The catalog's part: firm, suppliers and materials, laid over the catalog given."""
    suppliers = reader.items("suppliers", partial(read, Supplier))
    materials = reader.items("materials", partial(read, Material))
    firm_reader = reader.optional_object("firm")
    if firm_reader is not None:
        both = read(FirmWithStandards, firm_reader)
        firm, standards = both.firm, both.standards
    elif catalog is not None:
        firm, standards = catalog.firm, catalog.standards
    else:
        raise reader.error("firm", "is missing")
    base = Catalog(firm, standards, catalog.suppliers, catalog.materials) if catalog else Catalog(firm, standards)
    if catalog is not None and not firm.kit:
        # A file that states no kit means the office's own; its materials are in the catalog behind it.
        base = replace(base, firm=replace(firm, kit=catalog.firm.kit))
    return base.with_more(suppliers, materials)


def read_pricing(reader: Reader) -> PricingSpec:
    """How the job is priced: policy, costs, tax, instalments, deposit, validity and texts."""
    document = read_all(
        policy=lambda: _policy(reader.object("policy")),
        materials=lambda: _materials(reader),
        labour=lambda: reader.items("labour", _labour),
        hour_cost=lambda: _of_object(reader, "labour_from_hours", _hour_cost),
        **{word: partial(reader.items, word, partial(_cost, word)) for word in _COST_LISTS},
        tax=lambda: _tax(reader.optional_object("tax")),
        instalments=lambda: _instalments(reader),
        deposit=lambda: _of_object(reader, "deposit", _deposit),
        special=lambda: reader.money("special_order_cost") if reader.has("special_order_cost") else None,
        valid_days=lambda: reader.whole("valid_days", 1, MAX_VALID_DAYS, 30),
        texts=lambda: QuoteTexts(**{block: reader.texts(block) for block in BLOCKS}),
        left_out=lambda: read_left_out(reader),
        notice=lambda: _of_object(reader, "notice", read_notice_choice),
        terms=lambda: read_terms(reader),
    )
    reader.pass_over("special_order_cost")
    reader.finish()
    entered, note = document["materials"]
    costs = (*document["labour"], *(line for word in _COST_LISTS for line in document[word]))
    return PricingSpec(
        document["policy"],
        document["tax"],
        entered,
        note,
        costs,
        document["instalments"],
        document["deposit"],
        document["special"],
        document["valid_days"],
        document["texts"],
        document["hour_cost"],
        document["left_out"],
        document["notice"],
        document["terms"],
    )


def _of_object(reader: Reader, name: str, read: Callable[[Reader], T]) -> T | None:
    inner = reader.optional_object(name)
    return read(inner) if inner else None


def _instalments(reader: Reader) -> tuple[Instalment, ...]:
    instalments = reader.items("instalments", _instalment, most=60)
    if instalments and sum((Fraction(instalment.share) for instalment in instalments), Fraction(0)) != 1:
        raise reader.error("instalments", "the shares must add up to exactly 1; write thirds as 1/3")
    return instalments


def _policy(reader: Reader) -> PricingPolicy:
    mode: PricingMode = reader.choice("mode", MODES)
    margin = reader.optional_decimal("target_margin", "0", "0.99")
    least = reader.optional_decimal("minimum_margin", "0", "0.99")
    markups: dict[Category, Decimal] = {}
    inner = reader.optional_object("markup")
    if inner is not None:
        markups = {c: inner.decimal(c, "0", "10") for c in CATEGORIES if inner.has(c)}
        for category in CATEGORIES:
            inner.pass_over(category)
        inner.finish()
    reader.finish()
    return _built(reader, "", lambda: PricingPolicy(mode, margin, markups, least))


def _materials(reader: Reader) -> tuple[Decimal | None, str]:
    value = reader.raw("materials")
    if value == "takeoff":
        return None, ""
    inner = reader.object("materials")
    amount, note = inner.money("amount"), inner.text("note", "")
    inner.finish()
    return amount, note


def _labour(reader: Reader) -> CostLine:
    what, hours = reader.text("what", longest=200), reader.decimal("hours", "0", "100000")
    rate, wall = reader.money("rate"), reader.text("wall", "")
    return _built(reader, "", lambda: cost_line("labour", what, hours, "h", rate, wall))


def _hour_cost(reader: Reader) -> Decimal:
    rate = reader.money("rate")
    reader.finish()
    if rate > MAX_QUANTITY:
        raise reader.error("rate", f"{rate:,} is too much for an hour; at most {MAX_QUANTITY:,}")
    return rate


def _cost(category: Category, reader: Reader) -> CostLine:
    what, amount, wall = reader.text("what", longest=200), reader.money("amount"), reader.text("wall", "")
    return _built(reader, "", lambda: cost_line(category, what, Decimal(1), "sum", amount, wall))


def _tax(reader: Reader | None) -> TaxRule:
    if reader is None:
        return TaxRule("No tax", Decimal(0))
    name, rate = reader.text("name", longest=60), reader.decimal("rate", "0", "1")
    part: TaxedPart = reader.choice("applies_to", TAXED_PARTS, "price")
    basis: TaxBasis = reader.choice("basis", TAX_BASES, "document")
    reader.finish()
    return _built(reader, "", lambda: TaxRule(name, rate, part, basis))


def _share(reader: Reader, name: str) -> Decimal | Fraction:
    value = reader.raw(name)
    if isinstance(value, str) and "/" in value:
        try:
            top, bottom = (int(part) for part in value.split("/"))
            share = Fraction(top, bottom)
        except (ValueError, ZeroDivisionError):
            raise reader.error(name, f'"{value[:40]}" is not a share; write 0.25 or 1/3') from None
        if not 0 <= share <= 1 or len(value) > 20:
            raise reader.error(name, f"{value[:40]} must lie from 0 to 1")
        return share
    return reader.decimal(name, "0", "1")


def _instalment(reader: Reader) -> Instalment:
    event, share = reader.text("event", longest=200), _share(reader, "share")
    return _built(reader, "share", lambda: Instalment(event, share))


def _deposit(reader: Reader) -> DepositRule:
    share = _share(reader, "share")
    at_most = reader.money("at_most") if reader.has("at_most") else None
    covers = reader.flag("covers_special_orders", False)
    legal_share = _share(reader, "legal_share") if reader.has("legal_share") else None
    legal_amount = reader.money("legal_amount") if reader.has("legal_amount") else None
    for name in ("at_most", "legal_share", "legal_amount"):
        reader.pass_over(name)
    reader.finish()
    return _built(reader, "", lambda: DepositRule(share, at_most, covers, legal_share, legal_amount))


def write_pricing(pricing: PricingSpec) -> Document:
    """The pricing as a document that `read_pricing` reads back the same."""
    policy = pricing.policy
    texts = pricing.texts
    return {
        "policy": {
            "mode": policy.mode,
            "target_margin": _plain(policy.target_margin),
            "minimum_margin": _plain(policy.minimum_margin),
            "markup": {c: _plain(policy.markup_by_category[c]) for c in CATEGORIES if c in policy.markup_by_category}
            or None,
        },
        "materials": "takeoff"
        if pricing.entered_materials is None
        else {"amount": _plain(pricing.entered_materials), "note": pricing.materials_note},
        "labour": [
            {"what": c.what, "hours": _plain(c.quantity), "rate": _plain(c.unit_cost), "wall": c.section}
            for c in pricing.costs
            if c.category == "labour"
        ],
        "labour_from_hours": None if pricing.hour_cost is None else {"rate": _plain(pricing.hour_cost)},
        **{
            category: [
                {"what": c.what, "amount": _plain(c.cost), "wall": c.section}
                for c in pricing.costs
                if c.category == category
            ]
            for category in _COST_LISTS
        },
        "tax": {
            "name": pricing.tax.name,
            "rate": _plain(pricing.tax.rate),
            "applies_to": pricing.tax.applies_to,
            "basis": pricing.tax.basis,
        },
        "instalments": [
            {"event": instalment.event, "share": _plain(instalment.share)} for instalment in pricing.instalments
        ],
        "deposit": _write_deposit(pricing.deposit),
        "special_order_cost": _plain(pricing.special_order_cost),
        "valid_days": pricing.valid_days,
        **{block: list(texts.of(block)) for block in BLOCKS},
        "left_out": list(pricing.left_out),
        "notice": None
        if pricing.notice is None
        else {"place": pricing.notice.place, "language": pricing.notice.language},
        **write_terms(pricing.terms),
    }


def _write_deposit(rule: DepositRule | None) -> Document | None:
    if rule is None:
        return None
    return {
        "share": _plain(rule.share),
        "at_most": _plain(rule.at_most),
        "covers_special_orders": rule.covers_special_orders,
        "legal_share": _plain(rule.legal_share),
        "legal_amount": _plain(rule.legal_amount),
    }


def _plain(value: Decimal | Fraction | None) -> str | None:
    if value is None:
        return None
    return str(value) if isinstance(value, Fraction) else format(value, "f")


def write_job_file(read: JobFile) -> Document:
    """A job file whole in itself, lengths with their unit, that `read_job_file` reads back the same.

    Only the materials and suppliers the job uses are written. read: the job file. Returns a JSON value.
    """
    codes = used_materials(read)
    materials = [read.book.materials[code] for code in sorted(codes) if code in read.book.materials]
    suppliers = {code for material in materials for code in sellers_of(material)}
    suppliers |= {date.supplier for date in read.job.dates if date.supplier}
    return {
        "format": FORMAT,
        "units": "mm",
        "firm": write(FirmWithStandards(read.book.firm, read.book.standards)),
        "suppliers": [write(read.book.suppliers[code]) for code in sorted(suppliers)],
        "materials": [write(material) for material in materials],
        **write_job(read.job),
        "pricing": write_pricing(read.pricing) if read.pricing else None,
        "texts": write_firm_texts(read.texts),
    }


def used_materials(read: JobFile) -> set[str]:
    """Codes of every material the walls, the items, the agreed dates and the firm's kit name."""
    codes = {code for kit in read.book.firm.kit.values() for code in kit}
    codes |= {item.material for item in read.job.dates} | {item.material for item in read.job.items}
    for wall in read.job.walls:
        codes |= {wall.track, wall.stud}
        codes |= {layer.board for face in (wall.left, wall.right) for layer in face.layers}
        codes |= {trim.material for trim in wall.trims}
        cased = [opening.casing for opening in wall.openings if opening.casing is not None]
        codes |= {code for casing in cased for code in (casing.legs, casing.head) if code}
        codes |= {code for kit in wall.kit.values() for code in kit}
    return codes
