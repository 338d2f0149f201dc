from django.conf import settings
from django.db import models


class SentForm(models.Model):
    """A form a person sent, and where its answer led: sent again as it is, it leads there and does nothing more."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    mark = models.CharField(max_length=64, help_text="SHA-256 over the address, the form's key and all it says.")
    address = models.TextField()
    led_to = models.TextField(blank=True, help_text="Empty while the first is being answered.")
    sent_at = models.DateTimeField(db_index=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["person", "mark"], name="sent_form_is_answered_once")]

    def __str__(self) -> str:
        return f"{self.address} by {self.person}"
