from django.db import models
from django.db.models import Q

from quoting.platform.models.bounds import between


class CatalogChanges(models.Model):
    """How often the catalog has changed: one row, so that what was worked out of it can be seen to be older."""

    ONLY_ID = 1

    id = models.PositiveSmallIntegerField(primary_key=True, default=ONLY_ID, editable=False)
    number = models.PositiveIntegerField(default=0, help_text="Rises with every row of the catalog that changes.")

    class Meta:
        verbose_name_plural = "catalog changes"
        constraints = [
            models.CheckConstraint(condition=Q(id=1), name="catalog_changes_is_one"),
            between("catalog_changes", "number", 0, 2_000_000_000),
        ]

    def __str__(self) -> str:
        return f"{self.number} changes of the catalog"
