from collections.abc import Mapping
from decimal import Decimal

from django.db import models
from simple_history.models import HistoricalRecords

from jobs.walls.models import Wall
from quoting.core.prices.costs import CATEGORIES, CATEGORY_WORDS, MAX_QUANTITY, CostLine, cost_line
from quoting.platform.models.bounds import MAX_POSITION, between, one_of, stated
from quoting.platform.models.columns import figure_column, money_column, normalized
from quoting.pricing.models.pricing import Pricing

CATEGORY_CHOICES = list(CATEGORY_WORDS)


class CostEntry(models.Model):
    """A cost that somebody entered: hours at a rate, or a sum. Costs of the takeoff are never stored here."""

    pricing = models.ForeignKey(Pricing, on_delete=models.CASCADE, related_name="costs")
    order = models.PositiveSmallIntegerField()
    category = models.CharField(max_length=11, choices=CATEGORY_CHOICES)
    what = models.CharField(max_length=200)
    quantity = figure_column()
    unit = models.CharField(max_length=40)
    unit_cost = money_column()
    rate_name = models.CharField(max_length=100, blank=True, help_text="Not empty takes the rate of the day.")
    wall = models.ForeignKey(
        Wall,
        null=True,
        blank=True,
        on_delete=models.SET_NULL,
        related_name="+",
        help_text="Empty when it serves the whole job.",
    )

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        verbose_name_plural = "cost entries"
        constraints = [
            between("cost_entry", "order", 0, MAX_POSITION),
            one_of("cost_entry", "category", CATEGORIES),
            stated("cost_entry", "what", "unit"),
            between("cost_entry", "quantity", 0, MAX_QUANTITY),
            between("cost_entry", "unit_cost", 0, MAX_QUANTITY),
        ]

    def __str__(self) -> str:
        return f"{self.what}: {self.quantity} {self.unit} at {self.unit_cost}"

    def to_core(self, rates: Mapping[str, Decimal]) -> CostLine:
        """rates: those in force, by name. A name without one stands at what it was entered with."""
        section = self.wall.name if self.wall else ""
        quantity, unit_cost = normalized(self.quantity), rates.get(self.rate_name, self.unit_cost)
        return cost_line(self.category, self.what, quantity, self.unit, unit_cost, section)  # type: ignore[arg-type]
