from django.db import models

from catalog.core.materials.specs import ROLES
from catalog.models import Material
from catalog.models.kit import ROLE_CHOICES
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import MAX_POSITION, between, one_of


class WallKitEntry(models.Model):
    """A material one wall uses in a role instead of the firm's."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="kit_entries")
    role = models.CharField(max_length=30, choices=ROLE_CHOICES)
    order = models.PositiveSmallIntegerField(default=0)
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["role", "order"]
        verbose_name_plural = "wall kit entries"
        constraints = [
            models.UniqueConstraint(fields=["wall", "role", "order"], name="wall_kit_entry_place_once"),
            one_of("wall_kit_entry", "role", ROLES),
            between("wall_kit_entry", "order", 0, MAX_POSITION),
        ]

    def __str__(self) -> str:
        return f"{self.role}: {self.material_id}"
