from typing import TypeVar

from django.db import models

from catalog.core.materials import specs
from catalog.core.materials.entries import SupplierEntry
from quoting.platform.models.bounds import stated
from quoting.platform.models.core_values import core_value

S = TypeVar("S", bound=specs.Supplier)


class Supplier(models.Model):
    code = models.CharField(max_length=60, unique=True)
    name = models.CharField(max_length=200)
    order_cut_off = models.TimeField(
        null=True, blank=True, help_text="An order after this hour counts as the next day's."
    )
    email = models.CharField(max_length=254, blank=True)
    contact = models.CharField(max_length=200, blank=True, help_text="Whom to ask for.")
    phone = models.CharField(max_length=60, blank=True)
    account_number = models.CharField(max_length=60, blank=True, help_text="Under which it knows the firm.")
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["code"]
        constraints = [stated("supplier", "code", "name")]

    def __str__(self) -> str:
        return self.name

    def to_core(self) -> specs.Supplier:
        return self._as(specs.Supplier)

    def entry(self) -> SupplierEntry:
        """As the office keeps it."""
        return self._as(SupplierEntry)

    def _as(self, core: type[S]) -> S:
        closures = tuple(closure.to_core() for closure in self.closures.all())
        terms = getattr(self, "order_terms", None)
        return core_value(core, self, closures=closures, terms=terms.to_core() if terms else None)
