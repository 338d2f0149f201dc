from django.db import models
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from jobs.jobs.models import Job
from quoting.platform.models.bounds import MAX_MONEY, between, stated
from quoting.platform.models.columns import money_column
from quoting.platform.models.posted import first_of_month


class PaymentReceived(models.Model):
    """Money that came in from the client of a job; which requests it pays follows from it."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="payments_received")
    request_key = models.CharField(max_length=100, unique=True)
    amount = money_column()
    received_on = models.DateField()
    posted_month = models.DateField(db_index=True, help_text="First day of the month it counts in.")
    what_for = models.CharField(max_length=200, help_text="Deposit, or the event of the instalment.")
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)
    undone_at = models.DateTimeField(null=True, blank=True, help_text="Entered by mistake, or sent back by the bank.")
    undone_by_name = models.CharField(max_length=200, blank=True)
    undone_reason = models.TextField(blank=True)
    undoes = models.OneToOneField(
        "self",
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="undone_by",
        help_text="The payment of a closed month that this takes off again.",
    )

    history = HistoricalRecords()

    class Meta:
        ordering = ["received_on", "pk"]
        verbose_name_plural = "payments received"
        constraints = [
            between("payment_received", "amount", -MAX_MONEY, MAX_MONEY),
            models.CheckConstraint(
                condition=models.Q(undoes__isnull=True, amount__gt=0) | models.Q(undoes__isnull=False, amount__lt=0),
                name="payment_received_is_over_nought",
            ),
            first_of_month("payment_received"),
            stated("payment_received", "request_key", "what_for", "entered_by_name"),
            models.CheckConstraint(
                condition=models.Q(undone_at__isnull=True, undone_by_name="")
                | (models.Q(undone_at__isnull=False) & ~models.Q(undone_by_name="") & ~models.Q(undone_reason="")),
                name="payment_received_undone_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.amount} on {day_words(self.received_on)}"

    @property
    def is_undone(self) -> bool:
        return self.undone_at is not None or self.taken_off is not None

    @property
    def taken_off(self) -> "PaymentReceived | None":
        """What undoes it, of a later month."""
        received: PaymentReceived | None = getattr(self, "undone_by", None)
        return received

    @property
    def why_undone(self) -> str:
        """By whom and why; empty while it stands."""
        if self.taken_off is not None:
            return f"{self.taken_off.entered_by_name}: {self.taken_off.undone_reason}"
        return f"{self.undone_by_name}: {self.undone_reason}" if self.undone_at else ""
