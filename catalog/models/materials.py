from decimal import Decimal
from functools import partial
from typing import TypeVar

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.units import UNITS
from catalog.core.materials import specs
from catalog.core.materials.entries import MaterialEntry
from catalog.core.materials.specs import KINDS, OWN_KIND, SUPPLIES
from catalog.models.suppliers import Supplier
from quoting.platform.models.bounds import between, one_of, stated, yes_or_no
from quoting.platform.models.columns import figure_column
from quoting.platform.models.core_values import core_value

SUPPLY_LABELS = {
    "stocked": "Stocked",
    "special_order": "Special order",
    "custom_made": "Made to order",
}


M = TypeVar("M", bound=specs.Material)


class Material(models.Model):
    """One entry of the catalog. Its code stands in jobs and papers, so it never changes."""

    code = models.CharField(max_length=60, unique=True)
    name = models.CharField(max_length=200)
    kind = models.CharField(max_length=20, choices=list(KINDS.items()))
    own_kind = models.CharField(max_length=60, blank=True, help_text="The firm's word for a kind of its own.")
    supply = models.CharField(max_length=20, choices=[(name, SUPPLY_LABELS[name]) for name in SUPPLIES])
    unit_used = models.CharField(max_length=10, choices=[(name, name) for name in UNITS])
    unit_bought = models.CharField(max_length=40)
    waste = figure_column(null=True, blank=True)
    supplier = models.ForeignKey(
        Supplier, to_field="code", null=True, blank=True, on_delete=models.PROTECT, related_name="materials"
    )
    cushion_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    sign_off_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    active = models.BooleanField(default=True, help_text="Offered where a material is chosen.")
    note = models.TextField(blank=True)
    profile = models.JSONField(null=True, blank=True, help_text="The card of a trim profile, as in a catalog file.")
    offers = models.JSONField(default=list, blank=True, help_text="Of other suppliers, as in a catalog file.")

    history = HistoricalRecords()

    class Meta:
        ordering = ["code"]
        constraints = [
            stated("material", "code", "name", "unit_bought"),
            one_of("material", "kind", KINDS),
            models.CheckConstraint(
                condition=(Q(kind=OWN_KIND) & ~Q(own_kind="")) | (~Q(kind=OWN_KIND) & Q(own_kind="")),
                name="material_own_kind_has_a_name",
            ),
            one_of("material", "supply", SUPPLIES),
            one_of("material", "unit_used", UNITS),
            between("material", "waste", 0, Decimal("1.999999")),
            between("material", "cushion_workdays", 0, 250),
            between("material", "sign_off_workdays", 0, 250),
            yes_or_no("material", "active"),
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"

    def to_core(self) -> specs.Material:
        return self._as(specs.Material)

    def entry(self) -> MaterialEntry:
        """As the office keeps it."""
        return self._as(MaterialEntry)

    def _as(self, core: type[M]) -> M:
        return core_value(
            core,
            self,
            packs=tuple(pack.to_core() for pack in self.packs.all()),
            facts={fact.name: fact.to_core() for fact in self.facts.all()},
            lead_terms=tuple(term.to_core() for term in self.lead_terms.all()),
            profile=read(specs.ProfileCard, Reader(self.profile, "profile", "mm")) if self.profile else None,
            planned_leads=tuple(plan.to_core() for plan in self.planned_leads.all()),
            offers=Reader({"offers": self.offers}).items("offers", partial(read, specs.Offer)),
        )
