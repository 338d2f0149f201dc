from django.db import models
from django.db.models import Q

from jobs.jobs.models import Job
from quoting.core.money.completion import SaidToGo
from quoting.core.money.quoted import CATEGORIES
from quoting.platform.models.bounds import MAX_MONEY, between, one_of, stated
from quoting.platform.models.columns import money_column
from quoting.platform.models.posted import Posted, first_of_month

MAX_ITEM = 200


class How(models.TextChoices):
    AMOUNT = "amount", "Still costs"
    NOTHING_MORE = "nothing_more", "Nothing more"
    AS_RECKONED = "as_reckoned", "As reckoned"


class SaidLeft(Posted):
    """What a person says is still to be spent on an item, commitments included; the newest of an item counts.

    Only ever added to: whoever thinks again says it again, or lets it be reckoned.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="said_left")
    category = models.CharField(max_length=11)
    item = models.CharField(max_length=MAX_ITEM)
    how = models.CharField(max_length=12, choices=How.choices)
    amount = money_column(null=True, blank=True)
    reason = models.CharField(max_length=300)
    request_key = models.CharField(max_length=100, unique=True)
    said_at = models.DateTimeField()
    said_by_name = models.CharField(max_length=200)

    class Meta:
        ordering = ["said_at", "pk"]
        verbose_name_plural = "said left"
        constraints = [
            one_of("said_left", "category", CATEGORIES),
            one_of("said_left", "how", How.values),
            stated("said_left", "item", "reason", "request_key", "said_by_name"),
            between("said_left", "amount", 0, MAX_MONEY),
            models.CheckConstraint(
                condition=Q(how="amount", amount__isnull=False) | (~Q(how="amount") & Q(amount__isnull=True)),
                name="said_left_amount_is_said",
            ),
            first_of_month("said_left"),
        ]

    def __str__(self) -> str:
        return f"{self.item}: {self.get_how_display().lower()}{f' {self.amount}' if self.amount is not None else ''}"

    def to_core(self) -> SaidToGo | None:
        """None where it is reckoned again."""
        if self.how == How.AS_RECKONED:
            return None
        return SaidToGo(self.category, self.item, self.amount, self.said_by_name, self.reason, self.day)
