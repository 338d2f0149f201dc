from django.db import models
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from jobs.orders.models.orders import MAX_QUANTITY, Order, OrderLine
from quoting.platform.models.bounds import MAX_MONEY, between, over_zero, stated
from quoting.platform.models.columns import figure_column, money_column


class Confirmation(models.Model):
    """What a supplier wrote back to an order."""

    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="confirmations")
    request_key = models.CharField(max_length=100, unique=True)
    reference = models.CharField(max_length=100, blank=True, help_text="The supplier's own number of the order.")
    received_on = models.DateField()
    note = models.TextField(blank=True)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["-received_on", "-pk"]
        constraints = [stated("confirmation", "request_key", "entered_by_name")]

    def __str__(self) -> str:
        return f"Confirmation of {self.order} of {day_words(self.received_on)}"


class ConfirmedLine(models.Model):
    """One line as the supplier confirmed it. What it does not say is left empty; differences are computed.

    lengths_mm, radii_mm: lists of figures, in the order of the pieces of the order's statement.
    """

    confirmation = models.ForeignKey(Confirmation, on_delete=models.CASCADE, related_name="lines")
    line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, related_name="confirmed")
    quantity = figure_column(null=True, blank=True)
    lengths_mm = models.JSONField(default=list)
    radii_mm = models.JSONField(default=list)
    radius_face = models.CharField(max_length=200, blank=True, help_text="Of a list; typed before there was one.")
    radius_lines = models.JSONField(default=list, blank=True, help_text="Of each radius the other line that has it.")
    amount = money_column(null=True, blank=True)
    promised_on = models.DateField(null=True, blank=True)
    settled_by_name = models.CharField(max_length=200, blank=True, help_text="Who stands for its differences.")
    settled_at = models.DateTimeField(null=True, blank=True)
    settled_reason = models.TextField(blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["confirmation", "line"], name="confirmed_line_once_a_confirmation"),
            over_zero("confirmed_line", "quantity", MAX_QUANTITY),
            between("confirmed_line", "amount", 0, MAX_MONEY),
            models.CheckConstraint(
                condition=models.Q(settled_at__isnull=True, settled_by_name="")
                | (models.Q(settled_at__isnull=False) & ~models.Q(settled_by_name="")),
                name="confirmed_line_settled_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.line_id} as confirmed"
