"""Payment requests: frozen from their first moment by the database (quoting/platform/immutable_tables.py)."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from jobs.jobs.models import Job
from quoting.changes.models import ChangeNote
from quoting.changes.models.changes import either_sign
from quoting.core.money.request_parts import Parts
from quoting.core.money.requests import Request
from quoting.platform.models.bounds import SHA256, between, stated
from quoting.platform.models.posted import Posted, first_of_month
from quoting.pricing.models.totals import total_column, total_is_price_and_tax
from quoting.quotes.models import QuoteRevision

FIGURES = ("asked", "noted", "credited", "held")


class RequestSequence(models.Model):
    """The last number given. Taken in the transaction that issues, so that none is lost or double."""

    ONLY_ID = 1

    id = models.PositiveSmallIntegerField(primary_key=True, default=ONLY_ID, editable=False)
    last = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(id=1), name="request_sequence_is_one"),
            between("request_sequence", "last", 0, 1_000_000_000),
        ]

    def __str__(self) -> str:
        return str(self.last)


class PaymentRequest(Posted):
    """part: as of `quoting.core.money.requests`. turn: how often the part was asked for before, and credited.

    asked, noted, credited, held: each in a part of price and of tax; credited and held are taken off. price, tax,
    total: to pay. credits: the request this takes back whole, its figures with the other sign; for a reason.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="payment_requests")
    revision = models.ForeignKey(QuoteRevision, on_delete=models.PROTECT, related_name="payment_requests")
    number = models.PositiveIntegerField(unique=True)
    request_key = models.CharField(max_length=100, unique=True, help_text="Asking twice with it issues once.")
    part = models.CharField(max_length=40)
    turn = models.PositiveSmallIntegerField()
    what = models.CharField(max_length=250, help_text="What is asked for, as the client reads it.")
    event_on = models.DateField(help_text="The day the event happened.")
    due = models.DateField()
    currency = models.CharField(max_length=3)
    asked_price = total_column()
    asked_tax = total_column()
    noted_price = total_column()
    noted_tax = total_column()
    credited_price = total_column()
    credited_tax = total_column()
    held_price = total_column()
    held_tax = total_column()
    price = total_column()
    tax = total_column()
    total = total_column()
    credits = models.OneToOneField("self", null=True, blank=True, on_delete=models.PROTECT, related_name="credited_by")
    reason = models.CharField(max_length=300, blank=True)
    snapshot = models.TextField(help_text="The filled paper.")
    snapshot_sha256 = models.CharField(max_length=64)
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    issued_by_name = models.CharField(max_length=200)

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["revision", "part", "turn"], name="payment_request_once_a_part_and_turn"),
            between("payment_request", "number", 1, 1_000_000_000),
            between("payment_request", "turn", 0, 10_000),
            stated("payment_request", "request_key", "part", "what"),
            stated("payment_request", "snapshot", "issued_by_name"),
            models.CheckConstraint(
                condition=Q(currency__regex=r"^[A-Z]{3}$"), name="payment_request_currency_is_a_code"
            ),
            models.CheckConstraint(condition=Q(snapshot_sha256__regex=SHA256), name="payment_request_hash_is_sha256"),
            models.CheckConstraint(condition=Q(due__gte=F("day")), name="payment_request_due_from_its_day_on"),
            models.CheckConstraint(
                condition=Q(credits__isnull=True, reason="") | (Q(credits__isnull=False) & ~Q(reason="")),
                name="payment_request_credit_says_why",
            ),
            first_of_month("payment_request"),
            *either_sign("payment_request", *(f"{figure}_{part}" for figure in FIGURES for part in ("price", "tax"))),
            *either_sign("payment_request", "price", "tax", "total"),
            total_is_price_and_tax("payment_request"),
        ]

    def __str__(self) -> str:
        return f"Request {self.number}"

    def to_core(self, notes: tuple[int, ...] = ()) -> Request:
        """notes: numbers of those that go with it."""
        figures = {figure: self.parts(figure) for figure in FIGURES}
        return Request(self.part, notes=notes, **figures)

    def parts(self, name: str) -> Parts:
        return Parts(getattr(self, f"{name}_price"), getattr(self, f"{name}_tax"))

    @property
    def to_pay(self) -> Parts:
        return Parts(self.price, self.tax)


class RequestedNote(models.Model):
    """A signed change note on a request. turn: how often it was on one before that was credited."""

    request = models.ForeignKey(PaymentRequest, on_delete=models.PROTECT, related_name="notes")
    note = models.ForeignKey(ChangeNote, on_delete=models.PROTECT, related_name="requests")
    turn = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["request", "note__number"]
        constraints = [
            models.UniqueConstraint(fields=["note", "turn"], name="requested_note_once_a_turn"),
            between("requested_note", "turn", 0, 10_000),
        ]

    def __str__(self) -> str:
        return f"{self.note} on {self.request}"
