from django.db import models
from django.db.models import Q

from quoting.payment_requests.models.requests import PaymentRequest
from quoting.platform.models.bounds import one_of, stated
from quoting.platform.models.mail_ways import HandedOver, MailWay, went_by_column


class RequestMail(HandedOver, models.Model):
    """The paper of a request sent to the client once; begun before it is handed to the mail server, as a quote's is."""

    request = models.ForeignKey(PaymentRequest, on_delete=models.PROTECT, related_name="mails")
    request_key = models.CharField(max_length=100, unique=True)
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
            stated("request_mail", "request_key", "to_address", "asked_by_name"),
            one_of("request_mail", "went_by", ["", *MailWay.values]),
            models.CheckConstraint(
                condition=Q(sent_at__isnull=True) | Q(began_at__isnull=False), name="request_mail_begun_before_sent"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.request} to {self.to_address}"
