"""From when on the money of a job is warned of; the owner sets it, without a word of theirs the usual limits hold."""

from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.db import transaction

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


@transaction.atomic
def set_limits(document: dict[str, Any]) -> MoneyLimits:
    """days_without_bill, under_billed (0.1 for 10 % of the contract), points_a_month."""
    reader = entry_reader(document)
    figures = {
        "days_without_bill": reader.whole("days_without_bill", 0, MAX_DAYS),
        "under_billed": reader.decimal("under_billed", "0", "1"),
        "points_a_month": reader.decimal("points_a_month", "0", str(MAX_POINTS)),
    }
    reader.finish()
    row = MoneyLimits.objects.select_for_update().first() or MoneyLimits()
    save_if_changed(row, figures)
    return row


def _least_margin() -> Decimal | None:
    return Pricing.objects.filter(job=None).values_list("minimum_margin", flat=True).first()
