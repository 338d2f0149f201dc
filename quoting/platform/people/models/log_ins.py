"""What the limits of guessing passwords rest on. Names, addresses and devices are kept as SHA-256 only."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from quoting.platform.models.bounds import SHA256, between


class GuessCount(models.Model):
    """How many passwords were tried against one limit until a moment."""

    digest = models.CharField(max_length=64, editable=False)
    ends_at = models.DateTimeField()
    count = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["digest", "ends_at"], name="guess_count_once_a_limit"),
            models.CheckConstraint(condition=Q(digest__regex=SHA256), name="guess_count_digest_is_sha256"),
            between("guess_count", "count", 0, 1_000_000),
        ]

    def __str__(self) -> str:
        return f"{self.count} until {self.ends_at.isoformat()}"


class KnownPlace(models.Model):
    """An address or a browser from which a person gave the right password."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="known_places")
    digest = models.CharField(max_length=64, editable=False)
    used_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["person", "digest"], name="known_place_once_a_person"),
            models.CheckConstraint(condition=Q(digest__regex=SHA256), name="known_place_digest_is_sha256"),
        ]

    def __str__(self) -> str:
        return f"Known to {self.person}"
