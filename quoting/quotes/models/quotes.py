"""Quotes and their revisions. Once issued a revision is frozen: the database (quoting/platform/immutable_tables.py)
refuses every change of it but the allowed steps of its state."""

from decimal import Decimal
from fractions import Fraction

from django.db import models
from django.db.models import F, Q

from jobs.jobs.models import Job
from quoting.platform.models.bounds import MAX_POSITION, between, one_of, stated
from quoting.platform.models.columns import figure_column
from quoting.pricing.models.shares import count_column, join_share, share_in_bounds
from quoting.pricing.models.totals import MAX_TOTAL, total_column
from quoting.quotes.models.bases import IssuedPaper


class QuoteSequence(models.Model):
    """The last number given in a year. Taken in the transaction that issues, so that none is lost or double."""

    year = models.PositiveSmallIntegerField(unique=True)
    last = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            between("quote_sequence", "year", 2000, 2100),
            between("quote_sequence", "last", 0, 1_000_000_000),
        ]

    def __str__(self) -> str:
        return f"{self.year}: {self.last}"


class Quote(models.Model):
    """The quote of a job: a number for life, and a chain of revisions."""

    job = models.OneToOneField(Job, on_delete=models.PROTECT, related_name="quote")
    number = models.CharField(max_length=20, unique=True)
    opened_at = models.DateTimeField()

    class Meta:
        ordering = ["-opened_at", "-pk"]
        constraints = [stated("quote", "number")]

    def __str__(self) -> str:
        return self.number


class RevisionState(models.TextChoices):
    ISSUED = "issued", "Issued"
    SUPERSEDED = "superseded", "Superseded"
    WITHDRAWN = "withdrawn", "Withdrawn"
    LAPSED = "lapsed", "Lapsed"
    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"
    TAKEN_BACK = "taken_back", "Cancelled"


class QuoteRevision(IssuedPaper):
    """What was offered, as it was offered: every figure, input and text, in the snapshot and beside it."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="revisions")
    number = models.PositiveSmallIntegerField()
    quoted_on = models.DateField()
    valid_until = models.DateField()
    cost = total_column()
    margin = figure_column()
    rules_version = models.CharField(max_length=40)
    snapshot = models.TextField()

    state = models.CharField(max_length=10, choices=RevisionState.choices, default=RevisionState.ISSUED)
    state_at = models.DateTimeField(help_text="Since when it stands so.")

    class Meta:
        ordering = ["quote", "-number"]
        constraints = [
            models.UniqueConstraint(fields=["quote", "number"], name="revision_number_once_a_quote"),
            models.UniqueConstraint(
                fields=["quote"], condition=Q(state="accepted"), name="revision_accepted_once_a_quote"
            ),
            models.UniqueConstraint(fields=["quote"], condition=Q(state="issued"), name="revision_issued_once_a_quote"),
            between("revision", "number", 1, 10_000),
            one_of("revision", "state", RevisionState.values),
            stated("revision", "request_key", "issued_by_name"),
            stated("revision", "rules_version", "snapshot"),
            models.CheckConstraint(condition=Q(valid_until__gte=F("quoted_on")), name="revision_valid_from_its_day_on"),
            *IssuedPaper.checks("revision"),
            *(between("revision", column, 0, MAX_TOTAL) for column in ("price", "tax", "total", "cost")),
            between("revision", "margin", -1, 1),
        ]

    def __str__(self) -> str:
        return f"{self.quote.number} revision {self.number}"


class QuoteLine(models.Model):
    """One line of the price as the client saw it."""

    revision = models.ForeignKey(QuoteRevision, on_delete=models.PROTECT, related_name="lines")
    order = models.PositiveSmallIntegerField()
    section = models.CharField(max_length=200)
    price = total_column()
    taxed = total_column()
    tax = total_column()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["revision", "order"], name="quote_line_once_a_place"),
            between("quote_line", "order", 0, MAX_POSITION),
            stated("quote_line", "section"),
            *(between("quote_line", column, 0, MAX_TOTAL) for column in ("price", "taxed", "tax")),
        ]

    def __str__(self) -> str:
        return f"{self.section}: {self.price}"


class QuoteInstalment(models.Model):
    """An amount the client pays at an event."""

    revision = models.ForeignKey(QuoteRevision, on_delete=models.PROTECT, related_name="instalments")
    order = models.PositiveSmallIntegerField()
    event = models.CharField(max_length=200)
    share_count = count_column()
    share_parts = count_column()
    amount = total_column()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["revision", "order"], name="quote_instalment_once_a_place"),
            between("quote_instalment", "order", 0, MAX_POSITION),
            stated("quote_instalment", "event"),
            share_in_bounds("quote_instalment", "share_count", "share_parts"),
            between("quote_instalment", "amount", 0, MAX_TOTAL),
        ]

    def __str__(self) -> str:
        return f"{self.event}: {self.amount}"

    @property
    def share(self) -> Decimal | Fraction:
        return join_share(self.share_count, self.share_parts)
