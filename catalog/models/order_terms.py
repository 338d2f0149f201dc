from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.core.leads import order_terms
from catalog.core.leads.lead_times import MAX_PRODUCTION_DAYS, MAX_TRANSIT_WORKDAYS
from catalog.core.leads.order_terms import MAX_CLAIM_DAYS, MAX_RUSH_CUSHION_WORKDAYS
from catalog.models.lead_terms import DAY_COUNTS
from catalog.models.suppliers import Supplier
from quoting.platform.models.bounds import MAX_MONEY, between, one_of, stated
from quoting.platform.models.columns import figure_column, money_column
from quoting.platform.models.core_values import core_value


class OrderTerms(models.Model):
    """On which terms a supplier takes orders, as it said. What it did not say is empty, never nought."""

    supplier = models.OneToOneField(Supplier, on_delete=models.CASCADE, related_name="order_terms")
    minimum_order = money_column(null=True, blank=True)
    freight = money_column(null=True, blank=True)
    freight_free_from = money_column(null=True, blank=True)
    claim_days = models.PositiveSmallIntegerField(null=True, blank=True)
    claim_counts = models.CharField(max_length=15, choices=DAY_COUNTS, default="calendar_days")
    rush_production_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    rush_transit_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    rush_cushion_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    rush_fee = money_column(null=True, blank=True)
    rush_share = figure_column(null=True, blank=True)
    source = models.TextField()
    stated_on = models.DateField()
    stated_by = models.TextField(blank=True)

    history = HistoricalRecords()

    class Meta:
        verbose_name_plural = "order terms"
        constraints = [
            *(
                between("order_terms", column, 0, MAX_MONEY)
                for column in ("minimum_order", "freight", "freight_free_from", "rush_fee")
            ),
            between("order_terms", "claim_days", 0, MAX_CLAIM_DAYS),
            one_of("order_terms", "claim_counts", [name for name, _ in DAY_COUNTS]),
            between("order_terms", "rush_production_workdays", 0, MAX_PRODUCTION_DAYS),
            between("order_terms", "rush_transit_workdays", 0, MAX_TRANSIT_WORKDAYS),
            between("order_terms", "rush_cushion_workdays", 0, MAX_RUSH_CUSHION_WORKDAYS),
            between("order_terms", "rush_share", 0, 10),
            stated("order_terms", "source"),
            models.CheckConstraint(
                condition=Q(rush_production_workdays__isnull=True, rush_transit_workdays__isnull=True)
                | Q(rush_production_workdays__isnull=False, rush_transit_workdays__isnull=False),
                name="order_terms_rush_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"Order terms of {self.supplier}"

    def to_core(self) -> order_terms.OrderTerms:
        return core_value(order_terms.OrderTerms, self)
