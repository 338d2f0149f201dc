from django.db import models
from simple_history.models import HistoricalRecords

from quoting.platform.models.bounds import MAX_MONEY, between, stated
from quoting.platform.models.columns import money_column
from quoting.platform.models.posted import Posted, Voidable, first_of_month, voided_says_why


class OverheadActual(Posted, Voidable):
    """What running the firm cost beside its jobs: rent, insurance. Less than nought: money that came back."""

    request_key = models.CharField(max_length=100, unique=True)
    what = models.CharField(max_length=200)
    amount = money_column()
    bill = models.CharField(max_length=100, blank=True, help_text="The number of its bill, if there is one.")
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["day", "pk"]
        constraints = [
            between("overhead_actual", "amount", -MAX_MONEY, MAX_MONEY),
            models.CheckConstraint(condition=~models.Q(amount=0), name="overhead_actual_is_an_amount"),
            stated("overhead_actual", "request_key", "what", "entered_by_name"),
            first_of_month("overhead_actual"),
            voided_says_why("overhead_actual"),
        ]

    def __str__(self) -> str:
        return f"{self.what}: {self.amount}"
