from django.db import models
from django.db.models import F, Q
from simple_history.models import HistoricalRecords

from catalog.core.leads.lead_record import MAX_ACTUAL_WORKDAYS, MAX_QUOTED_WORKDAYS, LeadReceipt
from catalog.models import Material, Supplier
from quoting.platform.models.bounds import between
from quoting.platform.models.core_values import core_value


class EarlierLead(models.Model):
    """How long an order took that was not placed here, as a sheet of the lead-time record says."""

    supplier = models.ForeignKey(Supplier, to_field="code", on_delete=models.CASCADE, related_name="+")
    material = models.ForeignKey(Material, to_field="code", on_delete=models.CASCADE, related_name="+")
    ordered_on = models.DateField(null=True, blank=True)
    received_on = models.DateField()
    quoted_workdays = models.PositiveSmallIntegerField()
    actual_workdays = models.PositiveSmallIntegerField()

    history = HistoricalRecords()

    class Meta:
        ordering = ["received_on", "pk"]
        constraints = [
            between("earlier_lead", "quoted_workdays", 1, MAX_QUOTED_WORKDAYS),
            between("earlier_lead", "actual_workdays", 0, MAX_ACTUAL_WORKDAYS),
            models.CheckConstraint(
                condition=Q(ordered_on=None) | Q(ordered_on__lte=F("received_on")), name="earlier_lead_came_after_order"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.material_id} of {self.received_on.isoformat()}"

    def to_core(self) -> LeadReceipt:
        return core_value(LeadReceipt, self, is_open=False)
