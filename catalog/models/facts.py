from typing import Any

from django.db import models
from simple_history.models import HistoricalRecords

from catalog.core.materials import specs, standards
from catalog.core.materials.specs import PROPERTIES, SURENESS
from catalog.core.materials.standards import STANDARD_SPECS
from catalog.models.materials import Material
from quoting.platform.models.bounds import MAX_MM, between, one_of, over_zero, stated
from quoting.platform.models.columns import figure_column, length_column
from quoting.platform.models.core_values import core_value

SURENESS_LABELS = {
    "published": "Published",
    "practice": "Common practice",
    "memory": "From memory, unverified",
    "maker": "The maker's",
    "firm": "The firm's own",
}
SURENESS_CHOICES = [(name, SURENESS_LABELS[name]) for name in SURENESS]


class SourcedFigure(models.Model):
    value = figure_column()
    source = models.TextField()
    sure = models.CharField(max_length=10, choices=SURENESS_CHOICES)
    stated_on = models.DateField(null=True, blank=True)

    class Meta:
        abstract = True

    def to_core(self) -> specs.Fact:
        return core_value(specs.Fact, self)


def figure_constraints(table: str) -> list[Any]:
    return [
        between(table, "value", 0, 1_000_000),
        one_of(table, "sure", SURENESS),
        stated(table, "source"),
    ]


class MaterialFact(SourcedFigure):
    """A sourced figure about a material: a least radius, a coverage."""

    material = models.ForeignKey(Material, on_delete=models.CASCADE, related_name="facts")
    # The names are the core's (PROPERTIES), which reads and checks them; a new one needs no migration.
    name = models.CharField(max_length=60)

    history = HistoricalRecords()

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(fields=["material", "name"], name="fact_once_a_material"),
            stated("fact", "name"),
            *figure_constraints("fact"),
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.value}"

    @property
    def label(self) -> str:
        return PROPERTIES[self.name].label


class Standard(SourcedFigure):
    """A sourced figure of the firm's own way of working."""

    # The names are the core's (STANDARD_SPECS); a new one needs no migration.
    name = models.CharField(max_length=60, unique=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["name"]
        constraints = [stated("standard", "name"), *figure_constraints("standard")]

    def __str__(self) -> str:
        return f"{self.name} {self.value}"

    @property
    def label(self) -> str:
        return STANDARD_SPECS[self.name].label


class SpacingStep(models.Model):
    """From this radius up, studs at most this far apart."""

    from_radius_mm = length_column(unique=True)
    spacing_mm = length_column()
    source = models.TextField()
    sure = models.CharField(max_length=10, choices=SURENESS_CHOICES)

    history = HistoricalRecords()

    class Meta:
        ordering = ["from_radius_mm"]
        constraints = [
            between("spacing_step", "from_radius_mm", 0, MAX_MM),
            over_zero("spacing_step", "spacing_mm", MAX_MM),
            one_of("spacing_step", "sure", SURENESS),
            stated("spacing_step", "source"),
        ]

    def __str__(self) -> str:
        return f"{self.spacing_mm} mm from {self.from_radius_mm} mm"

    def to_core(self) -> standards.SpacingStep:
        return core_value(standards.SpacingStep, self)
