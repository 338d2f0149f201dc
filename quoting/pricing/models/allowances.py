from django.db import models
from simple_history.models import HistoricalRecords

from quoting.core.prices.allowances import Allowance
from quoting.core.prices.costs import CATEGORIES
from quoting.platform.models.bounds import MAX_MONEY, MAX_POSITION, between, one_of, stated
from quoting.platform.models.columns import figure_column, money_column
from quoting.platform.models.core_values import core_value
from quoting.pricing.models.costs import CATEGORY_CHOICES
from quoting.pricing.models.pricing import Pricing


class AllowanceEntry(models.Model):
    """A sum in the price for what the client has still to choose."""

    pricing = models.ForeignKey(Pricing, on_delete=models.CASCADE, related_name="allowances")
    order = models.PositiveSmallIntegerField()
    what = models.CharField(max_length=200)
    amount = money_column()
    category = models.CharField(max_length=11, choices=CATEGORY_CHOICES)
    cost = money_column(null=True, blank=True, help_text="Empty: the sum itself.")
    over_markup = figure_column()

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        verbose_name = "allowance"
        constraints = [
            models.UniqueConstraint(fields=["pricing", "what"], name="allowance_once_a_name"),
            between("allowance", "order", 0, MAX_POSITION),
            stated("allowance", "what"),
            between("allowance", "amount", 0, MAX_MONEY),
            one_of("allowance", "category", CATEGORIES),
            between("allowance", "cost", 0, MAX_MONEY),
            between("allowance", "over_markup", 0, 1),
        ]

    def __str__(self) -> str:
        return f"{self.what}: {self.amount}"

    def to_core(self) -> Allowance:
        return core_value(Allowance, self)
