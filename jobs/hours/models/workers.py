"""Who works on the firm's jobs, and how the firm counts their minutes."""

from datetime import date

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower
from simple_history.models import HistoricalRecords

from jobs.core.costs.hours import ROUNDINGS
from quoting.platform.models.bounds import one_of, stated


class Worker(models.Model):
    """Somebody whose hours are entered. They may log in, and need not; whoever leaves gets a last day."""

    name = models.CharField(max_length=120)
    rate_name = models.CharField(max_length=100, help_text="Name of the labour rate their hours cost the firm.")
    first_day = models.DateField()
    last_day = models.DateField(null=True, blank=True, help_text="Nothing: they still work here.")
    person = models.OneToOneField(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="worker"
    )
    request_key = models.CharField(max_length=100, unique=True)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = [Lower("name"), "pk"]
        constraints = [
            models.UniqueConstraint(Lower("name"), name="worker_once_a_name"),
            stated("worker", "name", "rate_name", "request_key", "entered_by_name"),
            models.CheckConstraint(
                condition=Q(last_day=None) | Q(last_day__gte=F("first_day")), name="worker_ends_after_they_begin"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def works_on(self, day: date) -> bool:
        return self.first_day <= day <= (self.last_day or day)


class HoursRule(models.Model):
    """How the firm counts minutes: one row, and only ever one. The time that was typed is kept beside."""

    ONLY_ID = 1

    id = models.PositiveSmallIntegerField(primary_key=True, default=ONLY_ID, editable=False)
    rounding = models.PositiveSmallIntegerField(default=1, help_text="Nearest so many minutes, both ways.")

    history = HistoricalRecords()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(id=1), name="hours_rule_is_one"),
            one_of("hours_rule", "rounding", list(ROUNDINGS)),
        ]

    def __str__(self) -> str:
        return ROUNDINGS[self.rounding]
