"""Hours worked, each under the rate of the day it was worked."""

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from jobs.core.costs.hours import MINUTES_OF_A_DAY, HourRow
from jobs.core.costs.tags import MAX_TAG
from jobs.hours.models.workers import Worker
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import MAX_MONEY, between, stated
from quoting.platform.models.columns import money_column
from quoting.platform.models.posted import Posted, Voidable, first_of_month, voided_says_why

KNOWN_TAG = r"^(rework|late|unforeseen|note [1-9][0-9]{0,4})?$"
_COUNTED = Q(reverses__isnull=True, minutes__gte=0, minutes__lte=MINUTES_OF_A_DAY)
_TAKEN_BACK = Q(reverses__isnull=False, minutes__gte=-MINUTES_OF_A_DAY, minutes__lte=0)
_ON_A_JOB = Q(job__isnull=False, elsewhere="")
_ELSEWHERE = Q(job__isnull=True, step="", tag="") & ~Q(elsewhere="")


class TimeEntry(Posted, Voidable):
    """A stretch of work. request_key, place: the line of what was sent; sent again it is the same.

    minutes: as they count; typed_minutes: as they were entered. elsewhere: what was done, where it is on no job.
    rate: what an hour cost the firm on the day worked, by the name the worker's rate had; None where none was in
    force. reverses: the entry of a closed month this takes back, with its minutes negative. corrects: the entry in
    whose place this one is entered.
    """

    worker = models.ForeignKey(Worker, on_delete=models.PROTECT, related_name="entries")
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.PROTECT, related_name="time_entries")
    step = models.CharField(max_length=60, blank=True)
    elsewhere = models.CharField(max_length=200, blank=True)
    typed_minutes = models.PositiveSmallIntegerField()
    minutes = models.SmallIntegerField()
    tag = models.CharField(max_length=MAX_TAG, blank=True)
    note = models.CharField(max_length=300, blank=True)
    rate = money_column(null=True, blank=True)
    rate_name = models.CharField(max_length=100)
    request_key = models.CharField(max_length=100)
    place = models.PositiveSmallIntegerField(default=0)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)
    reverses = models.OneToOneField("self", null=True, blank=True, on_delete=models.PROTECT, related_name="reversed_by")
    corrects = models.ForeignKey("self", null=True, blank=True, on_delete=models.PROTECT, related_name="corrected_by")

    history = HistoricalRecords()

    class Meta:
        ordering = ["day", "pk"]
        verbose_name_plural = "time entries"
        indexes = [models.Index(fields=["worker", "day"], name="time_entry_worker_day")]
        constraints = [
            models.UniqueConstraint(fields=["request_key", "place"], name="time_entry_once_a_key_and_place"),
            stated("time_entry", "rate_name", "request_key", "entered_by_name"),
            between("time_entry", "typed_minutes", 1, MINUTES_OF_A_DAY),
            between("time_entry", "place", 0, 10_000),
            between("time_entry", "rate", 0, MAX_MONEY),
            models.CheckConstraint(condition=_COUNTED | _TAKEN_BACK, name="time_entry_minutes_in_bounds"),
            models.CheckConstraint(condition=_ON_A_JOB | _ELSEWHERE, name="time_entry_on_a_job_or_elsewhere"),
            models.CheckConstraint(condition=Q(tag__regex=KNOWN_TAG), name="time_entry_tag_is_known"),
            first_of_month("time_entry"),
            voided_says_why("time_entry"),
        ]

    def __str__(self) -> str:
        return f"{self.worker}, {self.minutes} min on {day_words(self.day)}"

    @property
    def is_late(self) -> bool:
        """It counts in a later month than that of its day, which was closed."""
        return self.posted_month > self.day

    def to_core(self, worker: str) -> HourRow:
        return HourRow(str(self.pk), self.day, worker, self.step or None, self.minutes, self.rate, self.tag)
