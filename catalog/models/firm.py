from typing import Any
from zoneinfo import ZoneInfo

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.core.materials import specs
from quoting.platform.models.bounds import between, one_of, stated
from quoting.platform.models.core_values import core_value

SYSTEMS = (("imperial", "Feet and inches"), ("metric", "Millimetres"))


class Firm(models.Model):
    """The firm itself: one row, and only ever one."""

    ONLY_ID = 1

    id = models.PositiveSmallIntegerField(primary_key=True, default=ONLY_ID, editable=False)
    name = models.CharField(max_length=200)
    address = models.TextField(blank=True)
    contact = models.TextField(blank=True)
    time_zone = models.CharField(max_length=60)
    currency = models.CharField(max_length=3)
    display_units = models.CharField(max_length=8, choices=SYSTEMS)
    cushion_workdays = models.PositiveSmallIntegerField()
    sign_off_workdays = models.PositiveSmallIntegerField()

    history = HistoricalRecords()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(id=1), name="firm_is_one"),
            stated("firm", "name", "time_zone"),
            models.CheckConstraint(condition=Q(currency__regex=r"^[A-Z]{3}$"), name="firm_currency_is_a_code"),
            one_of("firm", "display_units", [name for name, _ in SYSTEMS]),
            between("firm", "cushion_workdays", 0, 250),
            between("firm", "sign_off_workdays", 0, 250),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.time_zone)

    def to_core(self, closures: tuple[Any, ...], kit: dict[str, tuple[str, ...]]) -> specs.Firm:
        return core_value(specs.Firm, self, closures=closures, kit=kit)
