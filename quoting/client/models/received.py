from django.db import models
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from jobs.jobs.models import Job
from quoting.platform.models.bounds import MOST_MONEY, over_zero, stated
from quoting.platform.models.columns import money_column


class PaymentReceived(models.Model):
    """Money that came in from the client of a job; what of the deposit is still open follows from it."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="payments_received")
    request_key = models.CharField(max_length=100, unique=True)
    amount = money_column()
    received_on = models.DateField()
    what_for = models.CharField(max_length=200, help_text="Deposit, or the event of the instalment.")
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)
    undone_at = models.DateTimeField(null=True, blank=True, help_text="Entered by mistake, or sent back by the bank.")
    undone_by_name = models.CharField(max_length=200, blank=True)
    undone_reason = models.TextField(blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["received_on", "pk"]
        verbose_name_plural = "payments received"
        constraints = [
            over_zero("payment_received", "amount", MOST_MONEY),
            stated("payment_received", "request_key", "what_for", "entered_by_name"),
            models.CheckConstraint(
                condition=models.Q(undone_at__isnull=True, undone_by_name="")
                | (models.Q(undone_at__isnull=False) & ~models.Q(undone_by_name="") & ~models.Q(undone_reason="")),
                name="payment_received_undone_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.amount} on {day_words(self.received_on)}"
