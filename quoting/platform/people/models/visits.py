from django.conf import settings
from django.db import models


class LastVisit(models.Model):
    """When a person last looked at Today, and the end of the visit before: what came after that is news to them."""

    person = models.OneToOneField(
        settings.AUTH_USER_MODEL, primary_key=True, on_delete=models.CASCADE, related_name="last_visit"
    )
    news_since = models.DateTimeField()
    seen_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.person} at {self.seen_at.isoformat()}"
