from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.core.measure import findings
from jobs.jobs.models.jobs import Job
from jobs.walls.models.brought_in import brought_in_of
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import between, stated
from quoting.platform.models.brought_in import ConfirmedColumns
from quoting.platform.models.columns import figure_column
from quoting.platform.models.core_values import core_value


class Override(ConfirmedColumns):
    """A named person's decision about a finding or a line, of one wall or of the job as a whole."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="overrides")
    wall = models.ForeignKey(Wall, null=True, blank=True, on_delete=models.CASCADE, related_name="overrides")
    key = models.CharField(max_length=200)
    reason = models.TextField()
    by = models.CharField(max_length=200)
    on = models.DateField()
    value = figure_column(null=True, blank=True)
    original = figure_column(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "key"], condition=Q(wall=None), name="override_once_a_job_and_key"),
            models.UniqueConstraint(fields=["wall", "key"], name="override_once_a_wall_and_key"),
            stated("override", "key", "reason", "by"),
            between("override", "value", 0, 10_000_000),
            between("override", "original", 0, 10_000_000),
        ]

    def __str__(self) -> str:
        return f"{self.key}: {self.reason}"

    def to_core(self) -> findings.Override:
        return core_value(findings.Override, self, on=self.on.isoformat(), brought_in=brought_in_of(self))
