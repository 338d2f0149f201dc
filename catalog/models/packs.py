from django.db import models
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from catalog.core.materials import specs
from catalog.models.materials import Material
from quoting.platform.models.bounds import MAX_MM, MAX_MONEY, MAX_POSITION, between, over_zero, stated
from quoting.platform.models.columns import figure_column, length_column, money_column
from quoting.platform.models.core_values import core_value


class Pack(models.Model):
    """The thing that is bought: a stick, a sheet, a box, a pail."""

    material = models.ForeignKey(Material, on_delete=models.CASCADE, related_name="packs")
    order = models.PositiveSmallIntegerField(default=0)
    code = models.CharField(max_length=60)
    label = models.CharField(max_length=200)
    quantity = figure_column(help_text="Units used in one pack.")
    length_mm = length_column(null=True, blank=True)
    width_mm = length_column(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["material", "code"], name="pack_code_once_a_material"),
            stated("pack", "code", "label"),
            between("pack", "order", 0, MAX_POSITION),
            over_zero("pack", "quantity", 1_000_000),
            over_zero("pack", "length_mm", MAX_MM),
            over_zero("pack", "width_mm", MAX_MM),
        ]

    def __str__(self) -> str:
        return self.label

    def to_core(self) -> specs.Pack:
        return core_value(specs.Pack, self, prices=tuple(price.to_core() for price in self.prices.all()))


class Price(models.Model):
    """What a pack costs from a day on, until a later price starts."""

    pack = models.ForeignKey(Pack, on_delete=models.CASCADE, related_name="prices")
    amount = money_column()
    starts_on = models.DateField()
    source = models.TextField(blank=True)
    held_until = models.DateField(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["starts_on", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["pack", "starts_on"], name="price_once_a_pack_and_day"),
            between("price", "amount", 0, MAX_MONEY),
        ]

    def __str__(self) -> str:
        return f"{self.amount} from {day_words(self.starts_on)}"

    def to_core(self) -> specs.Price:
        return core_value(specs.Price, self)
