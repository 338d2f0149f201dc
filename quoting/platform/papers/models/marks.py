from django.db import models
from django.db.models import Q

from quoting.platform.models.bounds import SHA256, between


class FirmMark(models.Model):
    """The firm's own mark from a moment on; without a file it has none from then. Rows are added, never changed."""

    file_name = models.CharField(max_length=100, blank=True)
    sha256 = models.CharField(max_length=64, blank=True)
    size_bytes = models.PositiveIntegerField(default=0)
    set_at = models.DateTimeField()
    set_by_name = models.CharField(max_length=200)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(file_name="", sha256="") | (~Q(file_name="") & Q(sha256__regex=SHA256)),
                name="mark_has_a_file_with_its_hash_or_none",
            ),
            between("firmmark", "size_bytes", 0, 100_000_000),
        ]

    def __str__(self) -> str:
        return self.file_name or "no mark"
