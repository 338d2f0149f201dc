from django.db import models
from django.db.models import F, Q

from catalog.core.ground.day_words import day_words
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import between, stated


class PlannedActivityDays(models.Model):
    """A stretch of days on which people of the firm are planned to be on a job, as last worked out."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="planned_days")
    key = models.CharField(max_length=60)
    name = models.CharField(max_length=120)
    first_day = models.DateField(db_index=True)
    last_day = models.DateField()
    people = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "planned activity days"
        constraints = [
            models.UniqueConstraint(fields=["job", "key", "first_day"], name="planned_days_once_a_day"),
            stated("planned_days", "key", "name"),
            between("planned_days", "people", 1, 50),
            models.CheckConstraint(condition=Q(last_day__gte=F("first_day")), name="planned_days_end_after_they_begin"),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {day_words(self.first_day)} to {day_words(self.last_day)}"
