from decimal import Decimal

from django.db import models
from django.db.models import F, Q

from catalog.core.leads import planned_leads
from catalog.core.leads.lead_times import MAX_PRODUCTION_DAYS, MAX_TRANSIT_WORKDAYS
from catalog.core.leads.planned_leads import MAX_PLAN_WORKDAYS
from catalog.models.lead_terms import DAY_COUNTS
from catalog.models.materials import Material
from quoting.platform.models.bounds import between, one_of, stated
from quoting.platform.models.columns import figure_column
from quoting.platform.models.core_values import core_value


class PlannedLead(models.Model):
    """Days a person accepted for planning a material, and what they rested on. Only its end is ever added."""

    material = models.ForeignKey(Material, on_delete=models.CASCADE, related_name="planned_leads")
    plan_workdays = models.PositiveSmallIntegerField(help_text="Of the supplier, from the order to its arrival.")
    production_days = models.PositiveSmallIntegerField(help_text="As quoted when it was accepted.")
    production_counts = models.CharField(max_length=15, choices=DAY_COUNTS)
    transit_workdays = models.PositiveSmallIntegerField()
    supplier = models.CharField(max_length=60, help_text="Code of the supplier then.")
    confidence = figure_column(help_text="The share of orders meant to come within it.")
    evidence = models.CharField(max_length=planned_leads.MAX_EVIDENCE)
    ratios = models.JSONField(default=list, blank=True, help_text="Actual over quoted days of the receipts.")
    accepted_by_name = models.CharField(max_length=200)
    accepted_on = models.DateField()
    ended_by_name = models.CharField(max_length=200, blank=True)
    ended_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["material"], condition=Q(ended_on__isnull=True), name="planned_lead_stands_once_a_material"
            ),
            between("planned_lead", "plan_workdays", 1, MAX_PLAN_WORKDAYS),
            between("planned_lead", "production_days", 0, MAX_PRODUCTION_DAYS),
            between("planned_lead", "transit_workdays", 0, MAX_TRANSIT_WORKDAYS),
            between("planned_lead", "confidence", Decimal("0.5"), Decimal("0.995")),
            one_of("planned_lead", "production_counts", [name for name, _ in DAY_COUNTS]),
            stated("planned_lead", "supplier", "evidence", "accepted_by_name"),
            models.CheckConstraint(
                condition=Q(ended_on__isnull=True, ended_by_name="")
                | (Q(ended_on__gte=F("accepted_on")) & ~Q(ended_by_name="")),
                name="planned_lead_ended_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.plan_workdays} working days, accepted by {self.accepted_by_name}"

    def to_core(self) -> planned_leads.PlannedLead:
        ratios = tuple(Decimal(ratio) for ratio in self.ratios)
        return core_value(planned_leads.PlannedLead, self, ratios=ratios, accepted_by=self.accepted_by_name)
