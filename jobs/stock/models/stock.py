from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.models import Material
from jobs.core.takeoff.cut_list import OnHand
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import MAX_MONEY, between, over_zero
from quoting.platform.models.columns import length_column, money_column
from quoting.platform.models.core_values import core_value


class Stock(models.Model):
    """Sticks and off-cuts of one length, or packs of one kind: on the shelf, or set aside for a job."""

    job = models.ForeignKey(
        Job, null=True, blank=True, on_delete=models.SET_NULL, related_name="on_hand", help_text="Empty: on the shelf."
    )
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    length_mm = length_column(null=True, blank=True)
    pack = models.CharField(max_length=60, blank=True, help_text="Code of the pack; empty for an off-cut.")
    count = models.PositiveSmallIntegerField()
    unit_cost = money_column(null=True, blank=True, help_text="What a job is charged for one.")
    note = models.CharField(max_length=200, blank=True, help_text="Where it lies, or where it came from.")
    set_aside_by_name = models.CharField(max_length=200, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        verbose_name = "stock"
        verbose_name_plural = "stock"
        constraints = [
            over_zero("stock", "length_mm", 10_000_000),
            between("stock", "count", 1, 1000),
            between("stock", "unit_cost", 0, MAX_MONEY),
            models.CheckConstraint(
                condition=Q(length_mm__isnull=False) | ~Q(pack=""), name="stock_has_a_length_or_a_pack"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.count} of {self.material_id}, {self.pack or f'{self.length_mm} mm'}"

    def to_core(self) -> OnHand:
        return core_value(OnHand, self)
