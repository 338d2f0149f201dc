"""Taxes and labour rates by the day they start."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import As, Choice, Money, Number, Text, read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.services.row_sync import remove_first, save_if_changed
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


@dataclass(frozen=True)
class SixPlaces(Number):
    """As many decimals as are stored."""

    def read(self, reader: Reader, name: str) -> Decimal:
        value = super().read(reader, name)
        if value != round(value, 6):
            raise reader.error(name, f"{value} has more than six decimals")
        return value


@dataclass(frozen=True)
class UpToTheMost(Money):
    def read(self, reader: Reader, name: str) -> Decimal:
        value: Decimal = super().read(reader, name)
        if value > MAX_MONEY:
            raise reader.error(name, f"{value:,} is too large; at most {MAX_MONEY:,}")
        return value


@dataclass(frozen=True)
class NewTaxRate:
    """A rate of the same day is changed."""

    name: Annotated[str, Text(60), As(label="Tax", hint="As papers call it.")]
    rate: Annotated[Decimal, SixPlaces("0", "1"), As(label="Rate, %", in_percent=True)]
    starts_on: Annotated[date, As(label="In force from")]
    applies_to: Annotated[str, Choice(TAXED_PARTS), As(label="Charged on", absent="price")] = "price"
    basis: Annotated[str, Choice(TAX_BASES), As(label="Rounding", absent="document")] = "document"


@dataclass(frozen=True)
class Worksheet:
    """What an hour costs is worked out of these."""

    wage: Annotated[Decimal, UpToTheMost(), As(label="Wage an hour")]
    payroll_tax_rate: Annotated[Decimal, SixPlaces("0", "1"), As(label="Taxes on wages, %", in_percent=True)]
    insurance_rate: Annotated[Decimal, SixPlaces("0", "1"), As(label="Insurance on wages, %", in_percent=True)]
    health_per_year: Annotated[Decimal, UpToTheMost(), As(label="Health, a year")]
    other_per_year: Annotated[Decimal, UpToTheMost(), As(label="Other, a year")]
    paid_hours: Annotated[Decimal, SixPlaces("0", str(MAX_HOURS)), As(label="Hours paid, a year")]
    unproductive_hours: Annotated[
        Decimal, SixPlaces("0", str(MAX_HOURS)), As(label="Of these not on jobs", hint="Holidays, sickness, the yard.")
    ]


@dataclass(frozen=True)
class NewLabourRate:
    """rate: money an hour; or the worksheet it comes from. A rate of the same day is changed."""

    name: Annotated[str, Text(100), As(label="Work", hint="Such as: framing, finishing.")]
    starts_on: Annotated[date, As(label="In force from")]
    rate: Annotated[Decimal | None, UpToTheMost(), As(label="Cost an hour", hint="Burden included.")] = None
    worksheet: Worksheet | None = None


@transaction.atomic
def set_tax_rate(document: dict[str, Any]) -> TaxRate:
    new = read(NewTaxRate, entry_reader(document))
    row = TaxRate.objects.filter(name=new.name, starts_on=new.starts_on).first() or TaxRate()
    save_if_changed(row, vars(new))
    return row


@transaction.atomic
def set_labour_rate(document: dict[str, Any]) -> LabourRate:
    new = read(NewLabourRate, entry_reader(document))
    sheet = vars(new.worksheet) if new.worksheet else dict.fromkeys(WORKSHEET)
    rate = worked_out(sheet) if new.worksheet else new.rate
    if rate is None:
        raise DocumentError.at("rate", "is missing; give it, or all of what it is worked out from")
    if new.rate not in (None, rate):
        reason = f"is not what the worksheet gives, {rate:,}; leave it empty, or leave out the worksheet"
        raise DocumentError.at("rate", reason)
    row = LabourRate.objects.filter(name=new.name, starts_on=new.starts_on).first() or LabourRate()
    save_if_changed(row, {"name": new.name, "rate": rate, "starts_on": new.starts_on, **sheet})
    return row


def worked_out(sheet: dict[str, Any]) -> Decimal:
    try:
        return labour_cost(sheet["wage"], **{name: sheet[name] for name in WORKSHEET[1:]}).cost_per_hour
    except PricingError as error:
        raise DocumentError.at("worksheet", str(error)) from error


def remove_tax_rate(rate_id: int) -> bool:
    return remove_first(TaxRate.objects.filter(pk=rate_id))


def remove_labour_rate(rate_id: int) -> bool:
    return remove_first(LabourRate.objects.filter(pk=rate_id))
