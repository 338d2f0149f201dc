from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.jobs.models import Job
from quoting.platform.models.bounds import one_of, stated
from quoting.quotes.models import QuoteRevision


class OutcomeKind(models.TextChoices):
    PRICE = "price", "Lost to price"
    DATE = "date", "Lost to the date"
    SCOPE = "scope", "Lost to the scope"
    OTHER_FIRM = "other_firm", "Lost to another firm"
    NOT_GOING = "not_going", "Not going ahead"
    PUT_OFF = "put_off", "Put off"
    NO_ANSWER = "no_answer", "No answer"
    OTHER = "other", "Lost for another reason"


class QuoteOutcome(models.Model):
    """Why no contract came of a job. revision: the latest one then; a later one makes it count no more."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="outcomes")
    revision = models.ForeignKey(
        QuoteRevision, null=True, blank=True, on_delete=models.PROTECT, related_name="outcomes"
    )
    kind = models.CharField(max_length=10, choices=OutcomeKind.choices)
    words = models.TextField(blank=True)
    said_on = models.DateField(help_text="The day it became known.")
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)
    undone_at = models.DateTimeField(null=True, blank=True)
    undone_by_name = models.CharField(max_length=200, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["-entered_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["job"], condition=Q(undone_at=None), name="quote_outcome_stands_once_a_job"
            ),
            one_of("quote_outcome", "kind", OutcomeKind.values),
            stated("quote_outcome", "entered_by_name"),
            models.CheckConstraint(
                condition=~Q(kind="other") | ~Q(words=""), name="quote_outcome_of_another_reason_says_which"
            ),
            models.CheckConstraint(
                condition=Q(undone_at=None, undone_by_name="") | (Q(undone_at__isnull=False) & ~Q(undone_by_name="")),
                name="quote_outcome_undone_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return self.get_kind_display()
