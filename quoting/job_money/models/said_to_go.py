from django.db import models
from simple_history.models import HistoricalRecords

from jobs.jobs.models import Job
from quoting.core.money.completion import SaidToGo
from quoting.core.money.quoted import CATEGORIES
from quoting.platform.models.bounds import MOST_MONEY, between, one_of, stated
from quoting.platform.models.columns import money_column
from quoting.platform.models.posted import Posted, Voidable, first_of_month, voided_says_why

LONGEST_ITEM = 200


class SaidLeft(Posted, Voidable):
    """What a person says is still to be spent on an item, commitments included; the newest of an item counts.

    amount: None where nothing more is to be bought or done.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="said_left")
    category = models.CharField(max_length=11)
    item = models.CharField(max_length=LONGEST_ITEM)
    amount = money_column(null=True, blank=True)
    reason = models.CharField(max_length=300)
    request_key = models.CharField(max_length=100, unique=True)
    said_at = models.DateTimeField()
    said_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["said_at", "pk"]
        verbose_name_plural = "said left"
        constraints = [
            one_of("said_left", "category", CATEGORIES),
            stated("said_left", "item", "reason", "request_key", "said_by_name"),
            between("said_left", "amount", 0, MOST_MONEY),
            first_of_month("said_left"),
            voided_says_why("said_left"),
        ]

    def __str__(self) -> str:
        return f"{self.item}: {'nothing more' if self.amount is None else self.amount}"

    def to_core(self) -> SaidToGo:
        return SaidToGo(self.category, self.item, self.amount, self.said_by_name, self.reason, self.day)
