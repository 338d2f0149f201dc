"""The columns of every photo that is kept."""

from django.db import models
from django.db.models import Q

from quoting.platform.models.bounds import SHA256, between, stated


class KeptPicture(models.Model):
    """A picture whose file is kept under the hash of its content and is never replaced."""

    file_name = models.CharField(max_length=100)
    sha256 = models.CharField(max_length=64)
    size_bytes = models.PositiveIntegerField()
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    added_by = models.CharField(max_length=200)
    added_at = models.DateTimeField()

    class Meta:
        abstract = True
        ordering = ["pk"]

    @staticmethod
    def checks(table: str, *words: str) -> list[models.CheckConstraint]:
        """words: further columns that are never empty."""
        return [
            stated(table, *words, "file_name", "added_by"),
            models.CheckConstraint(condition=Q(sha256__regex=SHA256), name=f"{table}_hash_is_sha256"),
            between(table, "size_bytes", 1, 100_000_000),
            between(table, "width_px", 1, 20_000),
            between(table, "height_px", 1, 20_000),
        ]
