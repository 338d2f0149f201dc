from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from jobs.core.costs.hours import StepHoursLeft
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import between, stated, yes_or_no
from quoting.platform.models.posted import Posted, first_of_month

MAX_LEFT = 6_000_000
"""Minutes a crew may say a step still takes: 100,000 h."""
MAX_PERCENT = 99


class HoursLeft(Posted):
    """How long a step of a job still takes, for the whole crew, as its lead says; the newest of a step counts.

    percent_done: how much of it is finished, if they say so too.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="hours_left")
    step = models.CharField(max_length=60)
    minutes = models.PositiveIntegerField()
    is_done = models.BooleanField(default=False)
    percent_done = models.PositiveSmallIntegerField(null=True, blank=True)
    request_key = models.CharField(max_length=100)
    said_at = models.DateTimeField()
    said_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["day", "pk"]
        verbose_name_plural = "hours left"
        constraints = [
            models.UniqueConstraint(fields=["request_key", "step"], name="hours_left_once_a_key_and_step"),
            stated("hours_left", "step", "request_key", "said_by_name"),
            between("hours_left", "minutes", 0, MAX_LEFT),
            yes_or_no("hours_left", "is_done"),
            between("hours_left", "percent_done", 1, MAX_PERCENT),
            models.CheckConstraint(
                condition=Q(is_done=False) | Q(percent_done=None), name="hours_left_of_done_has_no_share"
            ),
            models.CheckConstraint(condition=Q(is_done=False) | Q(minutes=0), name="hours_left_of_done_is_none"),
            first_of_month("hours_left"),
        ]

    def __str__(self) -> str:
        return f"{self.step} of job {self.job_id}, {day_words(self.day)}"

    def to_core(self) -> StepHoursLeft:
        return StepHoursLeft(self.step, self.minutes, self.is_done, self.said_by_name, self.day, self.percent_done)
