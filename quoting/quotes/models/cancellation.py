"""How long a client may take an acceptance back, as the firm enters it on its lawyer's word."""

from django.db import models
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from quoting.core.quotes.cancellation import COUNTINGS, MAX_WINDOW_DAYS, CancellationRule
from quoting.platform.models.bounds import between, one_of, stated

MAX_NOTICE = 500
COUNTING_CHOICES = [
    ("calendar", "Every day of the calendar"),
    ("business", "Monday to Friday, without holidays"),
    ("business_and_saturday", "Monday to Saturday, without holidays"),
]


class CancellationTerm(models.Model):
    """In force from its day until a later one starts; none in force means that no window is stated."""

    starts_on = models.DateField(unique=True)
    days = models.PositiveSmallIntegerField(help_text="0 states that there is no window.")
    counting = models.CharField(max_length=21, choices=COUNTING_CHOICES)
    notice = models.CharField(max_length=MAX_NOTICE, blank=True, help_text="How the client gives notice.")
    source = models.CharField(max_length=200, help_text="On whose word.")

    history = HistoricalRecords()

    class Meta:
        ordering = ["-starts_on"]
        constraints = [
            between("cancellation_term", "days", 0, MAX_WINDOW_DAYS),
            one_of("cancellation_term", "counting", COUNTINGS),
            stated("cancellation_term", "source"),
        ]

    def __str__(self) -> str:
        return f"Cancellation window of {self.days} days from {day_words(self.starts_on)}"

    def to_core(self) -> CancellationRule | None:
        if not self.days:
            return None
        return CancellationRule(self.days, self.counting, self.source, self.notice)  # type: ignore[arg-type]


class Holiday(models.Model):
    """A public holiday where the firm works: no business day, whether or not the firm is closed."""

    day = models.DateField(unique=True)
    name = models.CharField(max_length=100)

    history = HistoricalRecords()

    class Meta:
        ordering = ["day"]
        constraints = [stated("holiday", "name")]

    def __str__(self) -> str:
        return f"{self.name}, {day_words(self.day)}"
