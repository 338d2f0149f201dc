"""A whole job file: catalog, job, walls and how the job is priced, in one JSON document, read and written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import partial
from typing import Annotated, Any, TypeVar

from catalog.core.ground.declared import (
    As,
    Declared,
    Document,
    Items,
    Money,
    Refs,
    Schema,
    Text,
    Whole,
    build,
    read,
    read_fields,
    write,
    write_fields,
)
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader, gather, read_all
from catalog.core.ground.refusal import EntryError
from catalog.core.ground.typed_marks import MoneyMarks
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.firm_document import FirmWithStandards
from catalog.core.materials.offers import sellers_of
from catalog.core.materials.specs import Material, Supplier
from jobs.core.ordering.job_work_up import JobInputs
from jobs.core.schedule.job_spec import JobSpec
from quoting.core.prices.costs import MAX_QUANTITY, Category, CostLine, cost_line
from quoting.core.prices.payments import DepositRule, Instalment
from quoting.core.prices.price_terms import NO_TERMS, PriceTerms
from quoting.core.prices.pricing import PricingPolicy
from quoting.core.prices.stated_figures import Stated
from quoting.core.prices.tax import TaxRule
from quoting.core.quotes.firm_texts import (
    NO_SENTENCES,
    NO_TEXTS,
    FirmTexts,
    NoticeChoice,
    QuoteTexts,
    TextKey,
)

T = TypeVar("T")
FORMAT = "curved-wall-job/1"
MAX_VALID_DAYS = 365
MAX_INSTALMENTS = 60
WALL_WORDS = "Name of the wall it belongs to; empty or nothing for what serves the whole job."
_COST_LISTS: tuple[Category, ...] = ("subcontract", "other")


@dataclass(frozen=True)
class LabourEntry:
    """Own hours."""

    document_name = "labour"

    what: Annotated[str, Text(200), "What is done.", As(label="Work")]
    hours: Annotated[Decimal, Stated("0", "100000"), "Hours of all people together, 0 to 100,000."]
    rate: Annotated[
        Decimal, Money(), "Cost of one productive hour.", As(label="Cost an hour", hint="Or the name of a rate.")
    ]
    wall: Annotated[str, WALL_WORDS] = ""

    @classmethod
    def from_document(cls, reader: Reader) -> CostLine:
        entry = cls(**read_fields(cls, reader))
        return build(lambda: cost_line("labour", entry.what, entry.hours, "h", entry.rate, entry.wall), reader, {})


@dataclass(frozen=True)
class CostEntry:
    """A sum that is not materials or own hours."""

    document_name = "cost"

    what: Annotated[str, Text(200), "What it is for."]
    amount: Annotated[Decimal, Money(), "Its cost.", As(label="Cost")]
    wall: Annotated[str, WALL_WORDS] = ""


@dataclass(frozen=True)
class HourCost:
    """The walls' own hours, step by step, as lines of labour beside those entered; null or nothing leaves them out."""

    document_name = "labour_from_hours"

    rate: Annotated[
        Decimal,
        Money(),
        "Cost of one such hour, burden included; at most 10,000,000.",
        As(label="Cost of an hour of the walls", hint="Or the name of a rate. Empty: the walls' hours are left out."),
    ]

    def __post_init__(self) -> None:
        if self.rate > MAX_QUANTITY:
            raise EntryError("rate", f"{self.rate:,} is too much for an hour; at most {MAX_QUANTITY:,}")


@dataclass(frozen=True)
class EnteredMaterials:
    """Cost of materials entered instead of the takeoff's."""

    amount: Annotated[
        Decimal,
        Money(),
        "Cost of all materials.",
        As(label="Cost of materials, entered", hint="Empty: what the walls need, at catalog prices."),
    ]
    note: Annotated[str, "Where it comes from.", As(label="What it stands for")] = ""


@dataclass(frozen=True)
class PricingSpec:
    """How one job is priced.

    entered_materials: cost of materials entered instead of the takeoff's, with a note; None takes the takeoff's.
    costs: labour, subcontract and other lines. hour_cost: cost of one hour of the walls' own hours, step by step; None
    leaves those hours out of the cost.
    """

    document_name = "pricing"

    policy: Annotated[PricingPolicy, "How the price is made of the cost."]
    tax: Annotated[
        TaxRule,
        "The tax on the price; null or nothing charges none. A client with a certificate is charged none.",
        As(absent=TaxRule("No tax", Decimal(0))),
    ]
    entered_materials: Annotated[Decimal | None, As(aside=True)] = None
    materials_note: Annotated[str, As(aside=True)] = ""
    costs: Annotated[tuple[CostLine, ...], As(aside=True)] = ()
    instalments: Annotated[
        tuple[Instalment, ...],
        Items(Declared(Instalment), MAX_INSTALMENTS),
        "When the total falls due; with none, it is not split.",
    ] = ()
    deposit: Annotated[DepositRule | None, "How the deposit is set."] = None
    special_order_cost: Annotated[
        Decimal | None, Money(), "Cost of special orders, for the deposit.", As(label="Cost of special orders")
    ] = None
    valid_days: Annotated[
        int,
        Whole(1, MAX_VALID_DAYS),
        "Calendar days from issue to the last day of acceptance; 30 when not said.",
        As(label="Valid for, days"),
    ] = 30
    texts: Annotated[QuoteTexts, As(spread=True)] = NO_SENTENCES
    hour_cost: Annotated[Decimal | None, As(aside=True)] = None
    left_out: Annotated[
        tuple[str, ...],
        Items(TextKey()),
        "Keys of the firm's standing sentences that do not go on this quote.",
    ] = ()
    notice: Annotated[NoticeChoice | None, "The notice the quote carries; null or nothing for none."] = None
    terms: Annotated[PriceTerms, As(spread=True)] = NO_TERMS

    @classmethod
    def from_document(cls, reader: Reader) -> PricingSpec:
        """Materials are the takeoff's or an amount; each category of cost has a list of its own."""
        parts = read_all(
            fields=lambda: read_fields(cls, reader, whole=False),
            materials=lambda: _materials(reader),
            labour=lambda: reader.items("labour", LabourEntry.from_document),
            hours=lambda: Declared(HourCost).read_or(reader, "labour_from_hours", None),
            **{name: partial(reader.items, name, partial(_cost, name)) for name in _COST_LISTS},
        )
        reader.finish()
        values, materials, hours = parts["fields"], parts["materials"], parts["hours"]
        if values["instalments"] and sum(Fraction(instalment.share) for instalment in values["instalments"]) != 1:
            raise reader.error("instalments", "the shares must add up to exactly 1; write thirds as 1/3")
        return cls(
            **values | {"left_out": tuple(dict.fromkeys(values["left_out"]))},
            entered_materials=materials.amount if materials else None,
            materials_note=materials.note if materials else "",
            costs=(*parts["labour"], *(line for name in _COST_LISTS for line in parts[name])),
            hour_cost=hours.rate if hours else None,
        )

    def to_document(self) -> Document:
        entered = self.entered_materials
        document = write_fields(self)
        return {
            "policy": document.pop("policy"),
            "materials": "takeoff" if entered is None else write(EnteredMaterials(entered, self.materials_note)),
            "labour": [
                write(LabourEntry(line.what, line.quantity, line.unit_cost, line.section))
                for line in self.costs
                if line.category == "labour"
            ],
            "labour_from_hours": None if self.hour_cost is None else write(HourCost(self.hour_cost)),
            **{
                name: [
                    write(CostEntry(line.what, line.cost, line.section)) for line in self.costs if line.category == name
                ]
                for name in _COST_LISTS
            },
            **document,
        }

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        materials = {"anyOf": [{"enum": ["takeoff"]}, refs.declared(EnteredMaterials)]}
        costs = Items(Declared(CostEntry)).optional_schema(refs)
        own = {
            "materials": {"description": 'The cost of materials: "takeoff", or entered instead.', **materials},
            "labour": {"description": "Own hours.", **Items(Declared(LabourEntry)).optional_schema(refs)},
            "labour_from_hours": Declared(HourCost).optional_schema(refs) | {"description": HourCost.__doc__},
            "subcontract": {"description": "Work bought in.", **costs},
            "other": {"description": "Other costs.", **costs},
        }
        return {
            **schema,
            "properties": {**own, **schema["properties"]},
            "required": [*schema["required"], "materials"],
        }


@dataclass(frozen=True)
class JobFile(JobInputs):
    """Everything one job is worked up and priced from.

    pricing: None when the file does not price the job. texts: the firm's standing sentences and notices.
    """

    pricing: PricingSpec | None = None
    texts: FirmTexts = NO_TEXTS


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
        result["job"] = JobSpec.from_document(reader)

    def pricing() -> None:
        inner = reader.optional_object("pricing")
        if inner is not None:
            result["pricing"] = read(PricingSpec, inner)

    def texts() -> None:
        inner = reader.optional_object("texts")
        if inner is not None:
            result["texts"] = read(FirmTexts, inner)

    gather((book, job, pricing, texts))
    reader.finish()
    job_file = JobFile(result["book"], result["job"], result["pricing"], result["texts"])
    complaints = (*_unknown_sections(job_file), *_unknown_suppliers(job_file.book), *_unknown_sellers(job_file))
    if complaints:
        raise DocumentError(complaints)
    return job_file


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


def _materials(reader: Reader) -> EnteredMaterials | None:
    return None if reader.raw("materials") == "takeoff" else read(EnteredMaterials, reader.object("materials"))


def _cost(category: Category, reader: Reader) -> CostLine:
    entry = read(CostEntry, reader)
    return build(lambda: cost_line(category, entry.what, Decimal(1), "sum", entry.amount, entry.wall), reader, {})


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
        **read.job.to_document(),
        "pricing": write(read.pricing) if read.pricing else None,
        "texts": write(read.texts),
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
