from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import month_words
from jobs.jobs.models import Job
from quoting.platform.models.bounds import SHA256, stated
from quoting.platform.models.posted import first_of_month

MAX_SENTENCE = 300


class ClosedMonth(models.Model):
    """A month as its close left it. The database lets nothing of it change: quoting/platform/immutable_tables.py."""

    month = models.DateField(unique=True, help_text="Its first day.")
    closed_at = models.DateTimeField()
    closed_by_name = models.CharField(max_length=200)
    snapshot = models.TextField(help_text="All figures of the month and what each row of it came to.")
    snapshot_sha256 = models.CharField(max_length=64)

    class Meta:
        ordering = ["month"]
        constraints = [
            first_of_month("closed_month", "month"),
            stated("closed_month", "closed_by_name", "snapshot"),
            models.CheckConstraint(condition=Q(snapshot_sha256__regex=SHA256), name="closed_month_has_its_sha256"),
        ]

    def __str__(self) -> str:
        return f"{month_words(self.month)}, closed"


class CauseSentence(models.Model):
    """What the owner says of a job's month: why it made what it made."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="cause_sentences")
    month = models.DateField(help_text="Its first day.")
    text = models.CharField(max_length=MAX_SENTENCE)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["month", "job"]
        constraints = [
            models.UniqueConstraint(fields=["job", "month"], name="cause_sentence_once_a_job_and_month"),
            first_of_month("cause_sentence", "month"),
            stated("cause_sentence", "text", "entered_by_name"),
        ]

    def __str__(self) -> str:
        return f"{month_words(self.month)}: {self.text}"
