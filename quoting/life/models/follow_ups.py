from django.db import models
from simple_history.models import HistoricalRecords

from quoting.platform.models.bounds import stated
from quoting.quotes.models import QuoteRevision


class FollowUp(models.Model):
    """When somebody asks the client next about a quotation that is out."""

    revision = models.OneToOneField(QuoteRevision, on_delete=models.PROTECT, related_name="follow_up")
    day = models.DateField()
    person = models.CharField(max_length=200)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        constraints = [stated("follow_up", "person", "entered_by_name")]

    def __str__(self) -> str:
        return f"{self.person} on {self.day.isoformat()}"
