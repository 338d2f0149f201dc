"""Letters of claims sent to suppliers by mail."""

from django.db import models
from django.db.models import Q

from jobs.deliveries.models.deliveries import ReceiptLine
from quoting.platform.models.bounds import one_of, stated
from quoting.platform.models.mail_ways import HandedOver, MailWay, went_by_column


class ClaimMail(HandedOver, models.Model):
    """The letter of a claim sent to the supplier once; begun before it is handed to the mail server, as an order's is.

    letter_key: of the errand that makes the letter which goes with it.
    """

    receipt = models.ForeignKey(ReceiptLine, on_delete=models.PROTECT, related_name="mails")
    request_key = models.CharField(max_length=100, unique=True)
    letter_key = models.CharField(max_length=200)
    to_address = models.CharField(max_length=254)
    message = models.TextField(blank=True)
    asked_at = models.DateTimeField()
    asked_by_name = models.CharField(max_length=200)
    began_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    went_by = went_by_column()

    class Meta:
        ordering = ["-asked_at", "-pk"]
        constraints = [
            stated("claim_mail", "request_key", "letter_key", "to_address"),
            one_of("claim_mail", "went_by", ["", *MailWay.values]),
            stated("claim_mail", "asked_by_name"),
            models.CheckConstraint(
                condition=Q(sent_at__isnull=True) | Q(began_at__isnull=False), name="claim_mail_begun_before_sent"
            ),
        ]

    def __str__(self) -> str:
        return f"Claim {self.receipt_id} to {self.to_address}"
