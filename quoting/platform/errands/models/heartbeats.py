from django.db import models


class Heartbeat(models.Model):
    """When a process of the service last said that it was alive."""

    name = models.CharField(max_length=40, unique=True)
    beat_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.name} at {self.beat_at.isoformat()}"
