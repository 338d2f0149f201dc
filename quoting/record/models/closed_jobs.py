"""What somebody says of a closed job for the record: goods left over, and that it is not to teach a standard."""

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.models import Material
from jobs.jobs.models import Job
from quoting.platform.models.bounds import between, stated
from quoting.platform.models.columns import figure_column

MAX_LEFT_OVER = 1_000_000
MAX_REASON = 300


class LeftOver(models.Model):
    """How much of a material was left when a job was done, counted as orders count it: sheets, sticks."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="left_over")
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    count = figure_column()
    said_at = models.DateTimeField()
    said_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "left over"
        constraints = [
            models.UniqueConstraint(fields=["job", "material"], name="left_over_once_a_job_and_material"),
            between("left_over", "count", 0, MAX_LEFT_OVER),
            stated("left_over", "said_by_name"),
        ]

    def __str__(self) -> str:
        return f"{self.count} of {self.material_id} left over of job {self.job_id}"


class LeftOut(models.Model):
    """A closed job that is not to teach a standard, and why. standard: as the suggestions name it."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="left_out_of")
    standard = models.CharField(max_length=120)
    reason = models.CharField(max_length=MAX_REASON)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)
    undone_at = models.DateTimeField(null=True, blank=True)
    undone_by_name = models.CharField(max_length=200, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "left out"
        constraints = [
            models.UniqueConstraint(
                fields=["job", "standard"], condition=Q(undone_at=None), name="left_out_stands_once_a_job_and_standard"
            ),
            stated("left_out", "standard", "reason", "entered_by_name"),
            models.CheckConstraint(
                condition=Q(undone_at=None, undone_by_name="") | (Q(undone_at__isnull=False) & ~Q(undone_by_name="")),
                name="left_out_undone_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return f"Job {self.job_id} left out of {self.standard}: {self.reason}"
