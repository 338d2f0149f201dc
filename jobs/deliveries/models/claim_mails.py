"""Letters of claims sent to suppliers by mail."""

from django.db import models

from jobs.deliveries.models.deliveries import ReceiptLine
from quoting.platform.models.bounds import stated
from quoting.platform.models.mail_ways import MailSentOnce, sent_once


class ClaimMail(MailSentOnce):
    """The letter of a claim sent to the supplier once; begun before it is handed to the mail server, as an order's is.

    letter_key: of the errand that makes the letter which goes with it.
    """

    receipt = models.ForeignKey(ReceiptLine, on_delete=models.PROTECT, related_name="mails")
    letter_key = models.CharField(max_length=200)

    class Meta(MailSentOnce.Meta):
        constraints = [
            *sent_once("claim_mail"),
            stated("claim_mail", "request_key", "letter_key", "to_address"),
            stated("claim_mail", "asked_by_name"),
        ]

    def __str__(self) -> str:
        return f"Claim {self.receipt_id} to {self.to_address}"
