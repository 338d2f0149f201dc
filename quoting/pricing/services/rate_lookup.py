"""What a pricing gives by name alone, a tax or an hour of labour: it has the rate in force on the day of the quote."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from catalog.core.ground.document_reader import DocumentError, Reader
from quoting.pricing.models import LabourRate, Pricing, TaxRate
from quoting.pricing.services.taxes import labour_rates_by_name

Document = dict[str, Any]


@dataclass(frozen=True)
class NamedRate:
    """tax, hour: empty where a rate is given. labour: one name a line of labour, in order."""

    tax: str = ""
    hour: str = ""
    labour: tuple[str, ...] = ()


NOTHING_NAMED = NamedRate()


def by_name(document: Document, on_day: date) -> tuple[Document, NamedRate]:
    """The document with a rate at every place that names one, and the names. What it does not know it leaves."""
    tax = _named_tax(document)
    if tax:
        document = {**document, "tax": {"name": tax, "rate": "0"}}
        _refuse_unknown(TaxRate, "tax.name", tax)
    rates, hours, lines = labour_rates_by_name(on_day), document.get("labour_from_hours"), document.get("labour")
    hour, names = "", []
    if isinstance(hours, dict) and hours.get("rate_of") is not None:
        hour, hours = _rate_of(hours, "labour_from_hours", rates)
        document = {**document, "labour_from_hours": hours}
    if isinstance(lines, list):
        written = []
        for place, line in enumerate(lines):
            name = ""
            if isinstance(line, dict) and line.get("rate_of") is not None:
                name, line = _rate_of(line, f"labour[{place}]", rates)
            names.append(name)
            written.append(line)
        document = {**document, "labour": written}
    return document, NamedRate(tax, hour, tuple(names))


def with_rate_names(document: Document, pricing: Pricing) -> Document:
    """The pricing's document with the names of labour rates in place of the rates they stand for."""
    costs = [cost for cost in pricing.costs.all() if cost.category == "labour"]
    for line, cost in zip(document["labour"], costs, strict=True):
        if cost.rate_name:
            del line["rate"]
            line["rate_of"] = cost.rate_name
    if pricing.hour_rate_name and pricing.hour_cost is not None:
        document["labour_from_hours"] = {"rate_of": pricing.hour_rate_name}
    return document


def _rate_of(line: Document, path: str, rates: dict[str, Any]) -> tuple[str, Document]:
    name = Reader(line, path).text("rate_of", longest=100)
    if line.get("rate") is not None:
        raise DocumentError.at(f"{path}.rate_of", "is given beside a rate; give one of the two")
    if name not in rates:
        _refuse_unknown(LabourRate, f"{path}.rate_of", name)
    rate = {key: entry for key, entry in line.items() if key != "rate_of"}
    # A rate that is yet to come: the quote names what is missing until then.
    return name, {**rate, "rate": str(rates.get(name, 0))}


def _refuse_unknown(model: Any, path: str, name: str) -> None:
    if not model.objects.filter(name=name).exists():
        reason = f'"{name}" has no rate entered; enter it with the day it starts, or give a rate here'
        raise DocumentError.at(path, reason)


def _named_tax(document: Document) -> str:
    tax = document.get("tax")
    if not isinstance(tax, dict) or tax.get("rate") is not None:
        return ""
    reader = Reader(tax, "tax")
    name = reader.text("name", longest=60)
    for word in ("rate", "applies_to", "basis"):
        reader.pass_over(word)
    reader.finish()
    return name
