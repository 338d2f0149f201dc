"""Taxes and labour rates by the day they start."""

from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from quoting.core.prices.figures import PricingError
from quoting.core.prices.labour import MAX_HOURS, labour_cost
from quoting.core.prices.tax import TAX_BASES, TAXED_PARTS, TaxRule
from quoting.platform.models.bounds import MAX_MONEY
from quoting.pricing.models import LabourRate, TaxRate
from quoting.pricing.models.tax import WORKSHEET


def tax_in_force(name: str, on_day: date) -> TaxRule | None:
    """The tax of that name as it stands on the day; None when no rate has started by then."""
    row = TaxRate.objects.filter(name=name, starts_on__lte=on_day).order_by("-starts_on").first()
    return row.to_core() if row else None


def taxes_in_force(on_day: date) -> list[TaxRate]:
    return _latest(TaxRate.objects.filter(starts_on__lte=on_day))


def labour_rates_in_force(on_day: date) -> list[LabourRate]:
    return _latest(LabourRate.objects.filter(starts_on__lte=on_day))


def labour_rates_by_name(on_day: date) -> dict[str, Decimal]:
    return {row.name: row.rate for row in labour_rates_in_force(on_day)}


def _latest(rows: Any) -> list[Any]:
    return list({row.name: row for row in rows.order_by("name", "starts_on")}.values())


@transaction.atomic
def set_tax_rate(document: dict[str, Any]) -> TaxRate:
    """name, rate (a share), applies_to, basis, starts_on; a rate of the same day is changed."""
    reader = entry_reader(document)
    name, rate = reader.text("name", longest=60), reader.decimal("rate", "0", "1")
    figures = {
        "name": name,
        "rate": rate,
        "applies_to": reader.choice("applies_to", TAXED_PARTS, "price"),
        "basis": reader.choice("basis", TAX_BASES, "document"),
        "starts_on": reader.day("starts_on"),
    }
    reader.finish()
    if rate != round(rate, 6):
        raise DocumentError.at("rate", f"{rate} has more than six decimals")
    row = TaxRate.objects.filter(name=name, starts_on=figures["starts_on"]).first() or TaxRate()
    save_if_changed(row, figures)
    return row


@transaction.atomic
def set_labour_rate(document: dict[str, Any]) -> LabourRate:
    """name, starts_on, and rate (money an hour) or worksheet; a rate of the same day is changed."""
    reader = entry_reader(document)
    name, starts_on = reader.text("name", longest=100), reader.day("starts_on")
    inner = reader.optional_object("worksheet")
    sheet: dict[str, Decimal | None] = _worksheet(inner) if inner else dict.fromkeys(WORKSHEET)
    rate = worked_out(sheet) if inner else reader.money("rate")
    if inner and reader.has("rate") and reader.money("rate") != rate:
        raise reader.error(
            "rate", f"is not what the worksheet gives, {rate:,}; leave it empty, or leave out the worksheet"
        )
    reader.pass_over("rate")
    figures = {"name": name, "rate": rate, "starts_on": starts_on, **sheet}
    reader.finish()
    if rate > MAX_MONEY:
        raise DocumentError.at("rate", f"{rate:,} is too large; a rate is at most {MAX_MONEY:,}")
    row = LabourRate.objects.filter(name=name, starts_on=figures["starts_on"]).first() or LabourRate()
    save_if_changed(row, figures)
    return row


def _worksheet(reader: Reader) -> dict[str, Decimal | None]:
    money = {name: reader.money(name) for name in ("wage", "health_per_year", "other_per_year")}
    shares = {name: reader.decimal(name, "0", "1") for name in ("payroll_tax_rate", "insurance_rate")}
    hours = {name: reader.decimal(name, "0", str(MAX_HOURS)) for name in ("paid_hours", "unproductive_hours")}
    reader.finish()
    for name, value in {**shares, **hours}.items():
        if value != round(value, 6):
            raise reader.error(name, f"{value} has more than six decimals")
    for name, value in money.items():
        if value > MAX_MONEY:
            raise reader.error(name, f"{value:,} is too large; at most {MAX_MONEY:,}")
    return {**money, **shares, **hours}


def worked_out(sheet: dict[str, Any]) -> Decimal:
    try:
        return labour_cost(sheet["wage"], **{name: sheet[name] for name in WORKSHEET[1:]}).cost_per_hour
    except PricingError as error:
        raise DocumentError.at("worksheet", str(error)) from error


def remove_tax_rate(rate_id: int) -> bool:
    return _removed(TaxRate.objects.filter(pk=rate_id).first())


def remove_labour_rate(rate_id: int) -> bool:
    return _removed(LabourRate.objects.filter(pk=rate_id).first())


def _removed(row: TaxRate | LabourRate | None) -> bool:
    if row is not None:
        row.delete()
    return row is not None
