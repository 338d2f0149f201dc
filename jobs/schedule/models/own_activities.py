from django.db import models
from django.db.models import F, Q
from simple_history.models import HistoricalRecords

from jobs.core.schedule import job_activities as core
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import between, one_of, over_zero, stated, yes_or_no
from quoting.platform.models.core_values import core_value


class OwnActivity(models.Model):
    """An activity of the job's own, beside the default chain."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="own_activities")
    key = models.CharField(max_length=60)
    name = models.CharField(max_length=120)
    kind = models.CharField(max_length=12, default="work")
    duration_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    crew_hours = models.DecimalField(max_digits=9, decimal_places=3, null=True, blank=True)
    crew = models.PositiveSmallIntegerField(null=True, blank=True)
    after = models.CharField(max_length=60, blank=True)
    before = models.CharField(max_length=60, blank=True)
    not_before = models.DateField(null=True, blank=True)
    shortest_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    longest_workdays = models.PositiveSmallIntegerField(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "own activities"
        constraints = [
            models.UniqueConstraint(fields=["job", "key"], name="own_activity_once_a_job"),
            stated("own_activity", "key", "name"),
            one_of("own_activity", "kind", core.ADDED_KINDS),
            between("own_activity", "duration_workdays", 0, core.MAX_WORKDAYS),
            over_zero("own_activity", "crew_hours", core.MAX_CREW_HOURS),
            between("own_activity", "crew", 1, core.MAX_PEOPLE),
            between("own_activity", "shortest_workdays", 0, core.MAX_WORKDAYS),
            between("own_activity", "longest_workdays", 0, core.MAX_WORKDAYS),
            models.CheckConstraint(
                condition=~Q(kind="work")
                | Q(duration_workdays=None, crew_hours__gt=0)
                | Q(duration_workdays__gte=0, crew_hours=None),
                name="own_activity_work_has_days_or_hours",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def to_core(self) -> core.AddedActivity:
        return core_value(core.AddedActivity, self, after=self.after or None, before=self.before or None)


class ActivityLink(models.Model):
    """A link of the job's own between two activities."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="activity_links")
    before = models.CharField(max_length=60)
    after = models.CharField(max_length=60)
    kind = models.CharField(max_length=2, default="FS")
    lag_workdays = models.SmallIntegerField(default=0)
    lag_elapsed_hours = models.PositiveSmallIntegerField(default=0)
    left_out = models.BooleanField(default=False)
    name = models.CharField(max_length=120, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "before", "after", "kind"], name="activity_link_once_a_job"),
            stated("activity_link", "before", "after"),
            one_of("activity_link", "kind", core.LINK_KINDS),
            between("activity_link", "lag_workdays", -core.MAX_LAG_WORKDAYS, core.MAX_LAG_WORKDAYS),
            between("activity_link", "lag_elapsed_hours", 0, 24 * 365),
            yes_or_no("activity_link", "left_out"),
            models.CheckConstraint(condition=~Q(before=F("after")), name="activity_link_between_two"),
            models.CheckConstraint(
                condition=Q(lag_workdays=0) | Q(lag_elapsed_hours=0), name="activity_link_waits_in_one_way"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.before} to {self.after}"

    def to_core(self) -> core.LinkChange:
        return core_value(core.LinkChange, self)
