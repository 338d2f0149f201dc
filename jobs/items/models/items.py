from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.models import Material
from jobs.core.takeoff import job_items as core
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import one_of, over_zero, stated
from quoting.platform.models.columns import figure_column
from quoting.platform.models.core_values import core_value


class JobItem(models.Model):
    """Something the job buys that is on no wall."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="items")
    key = models.CharField(max_length=60)
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    rule = models.CharField(max_length=20, choices=list(core.RULES.items()))
    quantity = figure_column(help_text="In all, or for each of what the rule names.")
    activity = models.CharField(max_length=60, blank=True, help_text="Key of the activity it is for.")
    need_by = models.DateField(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "key"], name="job_item_once_a_job"),
            stated("job_item", "key"),
            one_of("job_item", "rule", core.RULES),
            over_zero("job_item", "quantity", core.MAX_QUANTITY),
            models.CheckConstraint(
                condition=~Q(activity="") | Q(need_by__isnull=False), name="job_item_is_for_an_activity_or_a_day"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.material_id} {self.get_rule_display()}"

    def to_core(self) -> core.JobItem:
        return core_value(core.JobItem, self, activity=self.activity or None)
