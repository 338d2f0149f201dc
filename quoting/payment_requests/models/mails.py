from django.db import models

from quoting.payment_requests.models.requests import PaymentRequest
from quoting.platform.models.bounds import stated
from quoting.platform.models.mail_ways import MailSentOnce, sent_once


class RequestMail(MailSentOnce):
    """The paper of a request sent to the client once; begun before it is handed to the mail server, as a quote's is."""

    request = models.ForeignKey(PaymentRequest, on_delete=models.PROTECT, related_name="mails")

    class Meta(MailSentOnce.Meta):
        constraints = [
            *sent_once("request_mail"),
            stated("request_mail", "request_key", "to_address", "asked_by_name"),
        ]

    def __str__(self) -> str:
        return f"{self.request} to {self.to_address}"
