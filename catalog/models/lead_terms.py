from django.db import models
from simple_history.models import HistoricalRecords

from catalog.core.leads import lead_times
from catalog.core.leads.lead_times import MAX_PRODUCTION_DAYS, MAX_TRANSIT_WORKDAYS
from catalog.models.materials import Material
from quoting.platform.models.bounds import between, one_of, stated
from quoting.platform.models.core_values import core_value

DAY_COUNTS = (("workdays", "Working days"), ("calendar_days", "Calendar days"))


class LeadTerm(models.Model):
    """What a supplier says an order takes, who said so and when; in force from that day on."""

    material = models.ForeignKey(Material, on_delete=models.CASCADE, related_name="lead_terms")
    production_days = models.PositiveSmallIntegerField()
    production_counts = models.CharField(max_length=15, choices=DAY_COUNTS)
    transit_workdays = models.PositiveSmallIntegerField()
    source = models.TextField()
    stated_on = models.DateField()
    stated_by = models.TextField(blank=True)

    history = HistoricalRecords()

    class Meta:
        # Of two stated on one day the later written holds, so the order of writing is kept.
        ordering = ["pk"]
        constraints = [
            between("lead_term", "production_days", 0, MAX_PRODUCTION_DAYS),
            between("lead_term", "transit_workdays", 0, MAX_TRANSIT_WORKDAYS),
            one_of("lead_term", "production_counts", [name for name, _ in DAY_COUNTS]),
            stated("lead_term", "source"),
        ]

    def __str__(self) -> str:
        return f"{self.production_days} {self.get_production_counts_display().lower()}"

    def to_core(self) -> lead_times.LeadTerm:
        return core_value(lead_times.LeadTerm, self)
