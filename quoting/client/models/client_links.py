from django.db import models
from django.db.models import Q

from quoting.platform.models.bounds import SHA256, one_of, stated
from quoting.platform.models.mail_ways import HandedOver, MailWay, went_by_column
from quoting.quotes.models.quotes import QuoteRevision


class ClientLink(models.Model):
    """The way to the client's page of one revision. Only the SHA-256 of its secret is kept; one is live at most."""

    revision = models.ForeignKey(QuoteRevision, on_delete=models.PROTECT, related_name="links")
    digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()
    made_by_name = models.CharField(max_length=200)
    handed_at = models.DateTimeField(null=True, blank=True, help_text="When it was shown, to be handed over by hand.")
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["revision"], condition=Q(withdrawn_at__isnull=True), name="client_link_live_once_a_revision"
            ),
            stated("client_link", "made_by_name"),
            models.CheckConstraint(condition=Q(digest__regex=SHA256), name="client_link_digest_is_sha256"),
        ]

    def __str__(self) -> str:
        return f"Link to {self.revision}"


class LinkOpening(models.Model):
    """One opening of the client's page, as the page itself said: when, and nothing of who or from where."""

    link = models.ForeignKey(ClientLink, on_delete=models.CASCADE, related_name="openings")
    opened_at = models.DateTimeField()
    opened_on = models.DateField(help_text="The day in the firm's time zone.")

    class Meta:
        ordering = ["opened_at", "pk"]

    def __str__(self) -> str:
        return f"{self.link} opened {self.opened_on}"


class QuoteMail(HandedOver, models.Model):
    """The paper of a revision, or of a change note to it, and the link to its page, sent to somebody once.

    began_at is committed before anything is handed to the mail server, so that a worker that dies in between
    leaves a doubt somebody can see, and never a second mail.
    """

    revision = models.ForeignKey(QuoteRevision, on_delete=models.PROTECT, related_name="mails")
    change_note = models.ForeignKey(
        "quoting.ChangeNote", null=True, blank=True, on_delete=models.PROTECT, related_name="mails"
    )
    request_key = models.CharField(max_length=100, unique=True, help_text="Asking twice with it sends once.")
    to_address = models.CharField(max_length=254)
    message = models.TextField(blank=True)
    origin = models.CharField(max_length=200, help_text="Where the client's page is: scheme, host and port.")
    asked_at = models.DateTimeField()
    asked_by_name = models.CharField(max_length=200)
    link = models.OneToOneField(ClientLink, null=True, blank=True, on_delete=models.PROTECT, related_name="mail")
    began_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    went_by = went_by_column()

    class Meta:
        ordering = ["-asked_at", "-pk"]
        constraints = [
            stated("quote_mail", "request_key", "to_address"),
            one_of("quote_mail", "went_by", ["", *MailWay.values]),
            stated("quote_mail", "origin", "asked_by_name"),
            models.CheckConstraint(
                condition=Q(began_at__isnull=True, link__isnull=True, sent_at__isnull=True)
                | Q(began_at__isnull=False, link__isnull=False),
                name="quote_mail_begun_has_its_link",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.change_note or self.revision} to {self.to_address}"
