from django.db import models

from catalog.core.materials.specs import ROLES
from catalog.models.materials import Material
from quoting.platform.models.bounds import MAX_POSITION, between, one_of

ROLE_CHOICES = [(role, label) for role, (_, label) in ROLES.items()]


class KitEntry(models.Model):
    """The material the firm uses in a role where a wall does not say."""

    role = models.CharField(max_length=30, choices=ROLE_CHOICES)
    order = models.PositiveSmallIntegerField(default=0)
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="kit_entries")

    class Meta:
        ordering = ["role", "order", "pk"]
        verbose_name_plural = "kit entries"
        constraints = [
            one_of("kit_entry", "role", ROLES),
            between("kit_entry", "order", 0, MAX_POSITION),
        ]

    def __str__(self) -> str:
        return f"{self.role}: {self.material_id}"
