from django.db import models
from django.db.models import F, Q
from simple_history.models import HistoricalRecords

from catalog.core.ground import workdays
from catalog.core.ground.day_words import day_words
from catalog.models import Material, Supplier
from jobs.core.schedule import job_spec as core
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import between, stated, yes_or_no
from quoting.platform.models.core_values import core_value


class JobClosure(models.Model):
    """Days on which the site is shut to the firm."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="closures")
    first_day = models.DateField()
    last_day = models.DateField()
    reason = models.TextField(blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=Q(last_day__gte=F("first_day")), name="job_closure_ends_after_it_begins"),
        ]

    def __str__(self) -> str:
        return f"{day_words(self.first_day)} to {day_words(self.last_day)}"

    def to_core(self) -> workdays.Closure:
        return core_value(workdays.Closure, self)


class ItemDates(models.Model):
    """What is agreed about the dates of one material of the job."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="item_dates")
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    need_by = models.DateField(null=True, blank=True)
    cushion_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    sign_off_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    supplier = models.ForeignKey(
        Supplier, to_field="code", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "item dates"
        constraints = [
            models.UniqueConstraint(fields=["job", "material"], name="item_dates_once_a_material"),
            between("item_dates", "cushion_workdays", 0, 250),
            between("item_dates", "sign_off_workdays", 0, 250),
        ]

    def __str__(self) -> str:
        return f"{self.material_id} by {day_words(self.need_by)}"

    def to_core(self) -> core.ItemDates:
        return core_value(core.ItemDates, self)


class ActivityChange(models.Model):
    """A change to one activity of the default chain."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="activity_changes")
    key = models.CharField(max_length=60)
    duration_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    not_before = models.DateField(null=True, blank=True)
    left_out = models.BooleanField(default=False)
    crew = models.PositiveSmallIntegerField(null=True, blank=True)
    shortest_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    longest_workdays = models.PositiveSmallIntegerField(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "key"], name="activity_change_once_a_job"),
            stated("activity_change", "key"),
            between("activity_change", "duration_workdays", 0, 500),
            between("activity_change", "crew", 1, 50),
            between("activity_change", "shortest_workdays", 0, 500),
            between("activity_change", "longest_workdays", 0, 500),
            yes_or_no("activity_change", "left_out"),
        ]

    def __str__(self) -> str:
        return self.key

    def to_core(self) -> core.ActivityChange:
        return core_value(core.ActivityChange, self)
