from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from quoting.platform.models.bounds import between, stated

MAX_DAYS_TO_PAY = 365
MAX_HOW_TO_PAY = 1000


class RequestTerms(models.Model):
    """What every payment request of the firm says: one row, and only ever one."""

    ONLY_ID = 1

    id = models.PositiveSmallIntegerField(primary_key=True, default=ONLY_ID, editable=False)
    tax_number = models.CharField(max_length=60, blank=True, help_text="Empty where the firm has none.")
    days_to_pay = models.PositiveSmallIntegerField()
    how_to_pay = models.TextField()

    history = HistoricalRecords()

    class Meta:
        verbose_name_plural = "request terms"
        constraints = [
            models.CheckConstraint(condition=Q(id=1), name="request_terms_is_one"),
            between("request_terms", "days_to_pay", 0, MAX_DAYS_TO_PAY),
            stated("request_terms", "how_to_pay"),
        ]

    def __str__(self) -> str:
        return "How clients pay"
