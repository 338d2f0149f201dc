from decimal import Decimal

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from quoting.core.money.cost_warnings import WarningLimits
from quoting.platform.models.bounds import between
from quoting.platform.models.columns import figure_column, normalized

USUAL = WarningLimits()
MAX_DAYS = 365
MAX_POINTS = 100


class MoneyLimits(models.Model):
    """From when on the money of a job is warned of: one row, and only ever one; without it the usual limits hold.

    under_billed: share of the contract. points_a_month: of margin. The least margin is the firm's usual pricing's.
    """

    ONLY_ID = 1

    id = models.PositiveSmallIntegerField(primary_key=True, default=ONLY_ID, editable=False)
    days_without_bill = models.PositiveSmallIntegerField(default=USUAL.days_without_bill)
    under_billed = figure_column(default=Decimal("0.1"))
    points_a_month = figure_column(default=USUAL.points_a_month)

    history = HistoricalRecords()

    class Meta:
        verbose_name_plural = "money limits"
        constraints = [
            models.CheckConstraint(condition=Q(id=1), name="money_limits_is_one"),
            between("money_limits", "days_without_bill", 0, MAX_DAYS),
            between("money_limits", "under_billed", 0, 1),
            between("money_limits", "points_a_month", 0, MAX_POINTS),
        ]

    def __str__(self) -> str:
        return "What is warned of"

    @property
    def share(self) -> Decimal:
        return normalized(self.under_billed)

    @property
    def points(self) -> Decimal:
        return normalized(self.points_a_month)
