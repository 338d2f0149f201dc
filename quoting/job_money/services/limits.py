"""From when on the money of a job is warned of; the owner sets it, without a word of theirs the usual limits hold."""

from dataclasses import asdict, dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Number, Whole, read
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from quoting.core.money.cost_warnings import WarningLimits
from quoting.job_money.models import MoneyLimits
from quoting.job_money.models.warning_limits import MAX_DAYS, MAX_POINTS
from quoting.pricing.models import Pricing


def money_limits() -> MoneyLimits:
    return MoneyLimits.objects.first() or MoneyLimits()


def limits_of_firm() -> WarningLimits:
    """With the firm's least margin."""
    row = money_limits()
    return WarningLimits(
        days_without_bill=row.days_without_bill,
        under_billed=Fraction(row.share),
        points_a_month=row.points,
        least_margin=_least_margin(),
    )


@dataclass(frozen=True)
class NewMoneyLimits:
    """From when on the money of a job is warned of."""

    days_without_bill: Annotated[int, Whole(0, MAX_DAYS)]
    under_billed: Annotated[Decimal, Number(high="1"), "Share of the contract, 0.1 for 10 %."]
    points_a_month: Annotated[Decimal, Number(high=str(MAX_POINTS)), "Of margin."]


@transaction.atomic
def set_limits(document: dict[str, Any]) -> MoneyLimits:
    """document: as `NewMoneyLimits`."""
    row = MoneyLimits.objects.select_for_update().first() or MoneyLimits()
    save_if_changed(row, asdict(read(NewMoneyLimits, entry_reader(document))))
    return row


def _least_margin() -> Decimal | None:
    return Pricing.objects.filter(job=None).values_list("minimum_margin", flat=True).first()
