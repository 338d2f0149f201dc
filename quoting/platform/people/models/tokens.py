from django.conf import settings
from django.db import models
from django.db.models import Q


class Token(models.Model):
    """A person's key to the API. Only its SHA-256 is kept; the token itself is shown once."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="tokens")
    name = models.CharField(max_length=80, help_text="What uses it, such as: spreadsheet on the office machine.")
    digest = models.CharField(max_length=64, unique=True, editable=False)
    made_at = models.DateTimeField(editable=False)
    last_used_on = models.DateField(null=True, blank=True, editable=False)
    withdrawn_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        ordering = ["-made_at", "-pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(name=""), name="token_has_a_name"),
            models.CheckConstraint(condition=Q(digest__regex=r"^[0-9a-f]{64}$"), name="token_digest_is_sha256"),
        ]

    def __str__(self) -> str:
        return f"{self.name} of {self.person}"
