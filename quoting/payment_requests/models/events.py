"""What a request waits for: an event of the work, marked by somebody; and what is held back until another."""

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.jobs.models import Job
from quoting.core.money.request_parts import Retention
from quoting.platform.models.bounds import between, stated, yes_or_no
from quoting.platform.models.posted import Voidable, voided_says_why
from quoting.pricing.models.shares import count_column, join_share, share_in_bounds
from quoting.quotes.models import QuoteRevision


class EventMark(Voidable):
    """The event of a part of the price has happened. Taken back, it stays to be seen and counts for nothing."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="event_marks")
    revision = models.ForeignKey(QuoteRevision, on_delete=models.PROTECT, related_name="event_marks")
    request_key = models.CharField(max_length=100, unique=True)
    part = models.CharField(max_length=40)
    event = models.CharField(max_length=200)
    happened_on = models.DateField()
    marked_at = models.DateTimeField()
    marked_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["happened_on", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["revision", "part"], condition=Q(voided_at__isnull=True), name="event_mark_once_a_part"
            ),
            stated("event_mark", "request_key", "part", "event"),
            stated("event_mark", "marked_by_name"),
            voided_says_why("event_mark"),
        ]

    def __str__(self) -> str:
        return self.event


class JobRetention(models.Model):
    """The share of each request the client holds back until an event. Set before the first request of the job."""

    job = models.OneToOneField(Job, on_delete=models.PROTECT, related_name="retention")
    version = models.PositiveIntegerField(default=1, help_text="Rises with every change.")
    share_count = count_column()
    share_parts = count_column()
    holds_tax = models.BooleanField(default=True, help_text="Else the tax is due at once.")
    event = models.CharField(max_length=200)
    set_at = models.DateTimeField()
    set_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        constraints = [
            between("job_retention", "version", 1, 1_000_000_000),
            share_in_bounds("job_retention", "share_count", "share_parts", least=0),
            yes_or_no("job_retention", "holds_tax"),
            stated("job_retention", "event", "set_by_name"),
        ]

    def __str__(self) -> str:
        return f"Held back on {self.job}"

    def to_core(self) -> Retention | None:
        share = join_share(self.share_count, self.share_parts)
        return Retention(share, self.holds_tax) if share else None
