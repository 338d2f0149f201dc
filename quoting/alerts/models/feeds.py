"""Calendar feeds: a secret address for each person, and the events as they were last given out."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from catalog.core.ground.day_words import day_words
from jobs.jobs.models import Job
from quoting.platform.models.bounds import SHA256, between, one_of, stated, yes_or_no


class EventKind(models.TextChoices):
    DECIDE = "decide", "Decide"
    ORDER = "order", "Order"
    DELIVERY = "delivery", "Delivery expected"
    NEED = "need", "On site"
    ACTIVITY = "activity", "Activity"
    STEP = "step", "What is next"


class FeedAddress(models.Model):
    """A person's way to their calendar feed. Only the SHA-256 of its secret is kept; one is live at most."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="feed_addresses")
    digest = models.CharField(max_length=64, unique=True, editable=False)
    made_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]
        verbose_name_plural = "feed addresses"
        constraints = [
            models.UniqueConstraint(
                fields=["person"], condition=Q(withdrawn_at__isnull=True), name="feed_address_live_once_a_person"
            ),
            models.CheckConstraint(condition=Q(digest__regex=SHA256), name="feed_address_digest_is_sha256"),
        ]

    def __str__(self) -> str:
        return f"Feed of {self.person}"


class FeedEvent(models.Model):
    """One event of a calendar. It keeps its id for good; sequence and modified_at rise whenever it changes.

    about: what it was first given out for, and its id is made of: code of a material, line of an order, key of an
    activity, or "next". members: all it is of now. first_day to last_day, both included. What is gone is cancelled,
    never deleted: calendars that took it must be told.
    """

    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.SET_NULL, related_name="feed_events")
    uid = models.CharField(max_length=100, unique=True)
    kind = models.CharField(max_length=8, choices=EventKind.choices)
    about = models.CharField(max_length=100)
    members = models.JSONField(default=list)
    summary = models.CharField(max_length=500)
    note = models.TextField(blank=True)
    first_day = models.DateField()
    last_day = models.DateField()
    sequence = models.PositiveIntegerField(default=0)
    modified_at = models.DateTimeField()
    cancelled = models.BooleanField(default=False)
    signed = models.BooleanField(default=False, help_text="Whether its job was signed when it was last given out.")

    class Meta:
        ordering = ["first_day", "summary", "pk"]
        indexes = [models.Index(fields=["kind", "first_day"], name="feed_event_kind_day")]
        constraints = [
            stated("feed_event", "uid", "about", "summary"),
            one_of("feed_event", "kind", EventKind.values),
            between("feed_event", "sequence", 0, 1_000_000_000),
            yes_or_no("feed_event", "cancelled"),
            yes_or_no("feed_event", "signed"),
            models.CheckConstraint(condition=Q(last_day__gte=F("first_day")), name="feed_event_ends_after_it_begins"),
        ]

    def __str__(self) -> str:
        return f"{self.summary} on {day_words(self.first_day)}"
