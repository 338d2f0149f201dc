"""How the catalog's figures are shown and offered for change, in the firm's own units."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.core.ground.declared import write_length
from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import BareLengthUnit, System, format_length, format_water, parse_length
from catalog.core.leads.lead_times import LeadTerm
from catalog.core.materials import specs
from catalog.core.materials.specs import PROPERTIES
from catalog.core.materials.standards import STANDARD_SPECS
from catalog.models import Firm
from catalog.models.facts import SURENESS_CHOICES, SURENESS_LABELS
from quoting.platform.screen_days import day_words

__all__ = ["SURENESS_CHOICES", "SURENESS_LABELS"]

UNIT_WORDS = {
    "each": "",
    "ratio": "times",
    "h": "h",
    "mil": "mil",
    "gal": "gal per 1,000 sq ft",
    "sq ft/gal": "sq ft per gal",
    "l/m2": "l/m²",
    "money": "",
}
UNITS_USED = {
    "each": "pieces",
    "ft": "feet",
    "sqft": "square feet",
    "sqm": "square metres",
    "gal": "gallons",
    "m": "metres",
    "mm": "millimetres",
    "cm": "centimetres",
    "in": "inches",
    "ml": "millilitres",
    "l": "litres",
    "floz": "fluid ounces",
    "g": "grams",
    "kg": "kilograms",
    "lb": "pounds",
    "oz": "ounces",
}


@dataclass(frozen=True)
class FigureRow:
    """One figure with where it comes from; value None when nobody has stated it."""

    name: str
    label: str
    value: str | None
    source: str = ""
    sure: str = ""
    stated_on: date | None = None
    unverified: bool = False


def system_of(firm: Firm | specs.Firm | None) -> System:
    return firm.display_units if firm else "imperial"  # type: ignore[return-value]


def bare_unit_of(firm: Firm | specs.Firm | None) -> BareLengthUnit:
    return "in" if system_of(firm) == "imperial" else "mm"


def bare_unit_words(firm: Firm | None) -> str:
    return "inches" if bare_unit_of(firm) == "in" else "millimetres"


def figure_words(value: Decimal, unit: str, system: System) -> str:
    if unit == "mm":
        return format_length(float(value), system)
    if unit == "yes/no":
        return "yes" if value else "no"
    stated = f"{plain(value)} {UNIT_WORDS.get(unit, unit)}".strip()
    if unit == "l/m2" and system == "imperial":
        return f"{format_water(float(value), system)} ({stated})"
    return stated


def figure_entry(value: Decimal, unit: str, system: System) -> str:
    """The figure as a form offers it for change: readable where that is exact, else in millimetres."""
    return length_entry(float(value), system) if unit == "mm" else plain(value) or ""


def length_entry(length_mm: float | None, system: System) -> str:
    if length_mm is None:
        return ""
    readable = format_length(length_mm, system)
    exact = parse_length(readable, what="", bare_unit="mm") == Decimal(repr(length_mm))
    return readable if exact else write_length(length_mm)


def fact_rows(material: specs.Material, system: System) -> list[FigureRow]:
    """Every figure a material of this kind can have, the stated ones first."""
    rows = [
        figure_row(name, known.label, known.unit, material.facts.get(name), system)
        for name, known in PROPERTIES.items()
        if material.kind in known.kinds
    ]
    return sorted(rows, key=lambda row: row.value is None)


def standard_rows(facts: dict[str, specs.Fact], system: System) -> list[FigureRow]:
    return [
        figure_row(name, known.label, known.unit, facts.get(name), system) for name, known in STANDARD_SPECS.items()
    ]


def figure_row(name: str, label: str, unit: str, fact: specs.Fact | None, system: System) -> FigureRow:
    if fact is None:
        return FigureRow(name, label, None)
    value = figure_words(fact.value, unit, system)
    return FigureRow(name, label, value, fact.source, SURENESS_LABELS[fact.sure], fact.stated_on, fact.sure == "memory")


def lead_words(term: LeadTerm) -> str:
    if not term.transit_workdays:
        return term.production.in_words()
    return f"{term.production.in_words()}, then {term.transit_workdays} more in transit"


def lead_source_words(term: LeadTerm) -> str:
    message = term.stated_by and term.stated_by.lower() not in term.source.lower()
    by = f" ({term.stated_by})" if message else ""
    return f"{term.source}{by}, {day_words(term.stated_on)}"


def percent_words(share: Decimal | None) -> str:
    return "" if share is None else f"{plain(share * 100)} %"


# How a unit is written beside a figure.
QUANTITY_UNITS = {"each": "pcs", "sqft": "sq ft", "sqm": "m²", "floz": "fl oz"}
POSITION_WORDS = {"top": "on top of a half wall"}
FORM_WORDS = {
    "stock": "as stocked",
    "bendable": "bendable",
    "pre_curved": "curved by the maker",
    "template": "to a template",
}
