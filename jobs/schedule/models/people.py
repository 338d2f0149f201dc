from django.db import models
from django.db.models import F, Q
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from jobs.core.schedule import actual_days, people
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import one_of, stated
from quoting.platform.models.core_values import core_value


class NamedPerson(models.Model):
    """Somebody on a job over a stretch of days, by name: not everybody on a crew logs in."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="people")
    name = models.CharField(max_length=people.MAX_NAME)
    part = models.CharField(max_length=4, default="crew")
    first_day = models.DateField(null=True, blank=True, help_text="Nothing: from the first day of the job.")
    last_day = models.DateField(null=True, blank=True, help_text="Nothing: to the last day of the job.")

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "named people"
        constraints = [
            stated("named_person", "name"),
            one_of("named_person", "part", people.PARTS),
            models.CheckConstraint(
                condition=Q(first_day=None) | Q(last_day=None) | Q(last_day__gte=F("first_day")),
                name="named_person_ends_after_it_begins",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def to_core(self) -> people.NamedPerson:
        return core_value(people.NamedPerson, self)


class ActualDays(models.Model):
    """When an activity of a job really began and ended, and who said so."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="actual_days")
    key = models.CharField(max_length=60)
    began_on = models.DateField()
    began_by = models.CharField(max_length=200)
    ended_on = models.DateField(null=True, blank=True)
    ended_by = models.CharField(max_length=200, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "actual days"
        constraints = [
            models.UniqueConstraint(fields=["job", "key"], name="actual_days_once_an_activity"),
            stated("actual_days", "key", "began_by"),
            models.CheckConstraint(
                condition=Q(ended_on=None, ended_by="")
                | (Q(ended_on__isnull=False, ended_on__gte=F("began_on")) & ~Q(ended_by="")),
                name="actual_days_end_after_they_begin",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.key}, {day_words(self.began_on)}"

    def to_core(self) -> actual_days.ActualDays:
        return core_value(actual_days.ActualDays, self)
