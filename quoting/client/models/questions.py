from django.db import models
from django.db.models import Q

from quoting.platform.models.bounds import stated
from quoting.quotes.models.quotes import QuoteRevision


class ClientQuestion(models.Model):
    """What a client asked on their page. It is answered by mail or phone, and then closed. batch: as of `Alert`."""

    revision = models.ForeignKey(QuoteRevision, on_delete=models.PROTECT, related_name="questions")
    text = models.TextField()
    asked_at = models.DateTimeField()
    asked_on = models.DateField(help_text="The day in the firm's time zone.")
    from_address = models.CharField(max_length=45)
    batch = models.CharField(max_length=32, blank=True)
    answered_at = models.DateTimeField(null=True, blank=True)
    answered_by_name = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            stated("client_question", "text"),
            models.CheckConstraint(
                condition=Q(answered_at=None, answered_by_name="")
                | (Q(answered_at__isnull=False) & ~Q(answered_by_name="")),
                name="client_question_answered_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return self.text
