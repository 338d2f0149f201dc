from django.db import models
from django.db.models import F, Q
from simple_history.models import HistoricalRecords

from catalog.core.ground import workdays
from catalog.core.ground.day_words import day_words
from catalog.models.suppliers import Supplier
from quoting.platform.models.core_values import core_value


class Closure(models.Model):
    """Days off: of a supplier, or of the firm where no supplier is named."""

    supplier = models.ForeignKey(
        Supplier, to_field="code", null=True, blank=True, on_delete=models.CASCADE, related_name="closures"
    )
    first_day = models.DateField()
    last_day = models.DateField()
    reason = models.TextField(blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=Q(last_day__gte=F("first_day")), name="closure_ends_after_it_begins"),
        ]

    def __str__(self) -> str:
        return f"{day_words(self.first_day)} to {day_words(self.last_day)}"

    def to_core(self) -> workdays.Closure:
        return core_value(workdays.Closure, self)
