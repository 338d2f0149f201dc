from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from quoting.core.prices.options import MAX_KEY, MAX_TITLE, OptionSpec
from quoting.core.prices.variants import MAX_NAME_LENGTH, variant_of
from quoting.platform.models.bounds import MAX_MONEY, MAX_POSITION, between, stated
from quoting.platform.models.columns import money_column
from quoting.platform.models.core_values import core_value
from quoting.pricing.models.pricing import Pricing


class OptionEntry(models.Model):
    """What the client may tick: at a price, or the job built another way."""

    pricing = models.ForeignKey(Pricing, on_delete=models.CASCADE, related_name="options")
    order = models.PositiveSmallIntegerField()
    key = models.CharField(max_length=MAX_KEY)
    title = models.CharField(max_length=MAX_TITLE)
    text = models.TextField(blank=True)
    group = models.CharField("choice", max_length=MAX_NAME_LENGTH, blank=True)
    price = money_column(null=True, blank=True)
    cost = money_column(null=True, blank=True)
    materials_price = money_column(null=True, blank=True)
    special_order_cost = money_column(default=0)
    build = models.JSONField(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        verbose_name = "option"
        constraints = [
            models.UniqueConstraint(fields=["pricing", "key"], name="option_key_once"),
            between("option", "order", 0, MAX_POSITION),
            stated("option", "key", "title"),
            *(between("option", column, -MAX_MONEY, MAX_MONEY) for column in ("price", "cost", "materials_price")),
            between("option", "special_order_cost", 0, MAX_MONEY),
            models.CheckConstraint(
                condition=Q(price__isnull=True, build__isnull=False) | Q(price__isnull=False, build__isnull=True),
                name="option_has_a_price_or_a_build",
            ),
        ]

    def __str__(self) -> str:
        return self.title

    def to_core(self) -> OptionSpec:
        build = None if self.build is None else variant_of(self.build, self.title[:MAX_NAME_LENGTH])
        return core_value(OptionSpec, self, build=build)
