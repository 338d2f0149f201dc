from django.db import models
from django.db.models import Q

from quoting.platform.models.bounds import SHA256, between, one_of, stated


class PaperKind(models.TextChoices):
    QUOTE = "quote", "Quotation"
    ORDER_DATES = "order_dates", "Order dates"
    SITE_SHEET = "site_sheet", "Site sheet"
    FULL_SIZE = "full_size", "Full-size template"
    CERTIFICATE = "certificate", "Certificate of acceptance"
    CHANGE_NOTE = "change_note", "Change note"
    ORDER_SHEET = "order_sheet", "Order sheet"
    CLAIM_LETTER = "claim_letter", "Letter of a claim"
    REQUEST = "request", "Payment request"
    STATEMENT = "statement", "Statement"
    JOB_RESULT = "job_result", "Job result"
    MONTH = "month", "Month"


OF_NO_JOB = ["claim_letter", "statement", "month"]


class Paper(models.Model):
    """A finished paper. Its file is kept under the hash of its content; the row is never changed."""

    kind = models.CharField(max_length=12, choices=PaperKind.choices)
    # None for an order sheet, since an order may be for several jobs, and for what becomes of an order.
    job = models.ForeignKey("jobs.Job", null=True, blank=True, on_delete=models.PROTECT, related_name="papers")
    order = models.ForeignKey("jobs.Order", null=True, blank=True, on_delete=models.PROTECT, related_name="papers")
    receipt = models.ForeignKey(
        "jobs.ReceiptLine", null=True, blank=True, on_delete=models.PROTECT, related_name="papers"
    )
    revision = models.OneToOneField(
        "quoting.QuoteRevision", null=True, blank=True, on_delete=models.PROTECT, related_name="paper"
    )
    answer = models.OneToOneField(
        "quoting.ClientAnswer", null=True, blank=True, on_delete=models.PROTECT, related_name="certificate"
    )
    change_note = models.OneToOneField(
        "quoting.ChangeNote", null=True, blank=True, on_delete=models.PROTECT, related_name="paper"
    )
    payment_request = models.OneToOneField(
        "quoting.PaymentRequest", null=True, blank=True, on_delete=models.PROTECT, related_name="paper"
    )
    client = models.ForeignKey("jobs.Client", null=True, blank=True, on_delete=models.PROTECT, related_name="papers")
    key = models.CharField(max_length=200, unique=True, help_text="The errand that made it: one errand, one paper.")
    title = models.CharField(max_length=500)
    file_name = models.CharField(max_length=100)
    sha256 = models.CharField(max_length=64)
    size_bytes = models.PositiveIntegerField()
    page_count = models.PositiveSmallIntegerField()
    made_at = models.DateTimeField()

    class Meta:
        ordering = ["-made_at", "-pk"]
        constraints = [
            one_of("paper", "kind", PaperKind.values),
            stated("paper", "key", "title", "file_name"),
            models.CheckConstraint(condition=Q(sha256__regex=SHA256), name="paper_hash_is_sha256"),
            between("paper", "size_bytes", 1, 1_000_000_000),
            between("paper", "page_count", 1, 10_000),
            models.CheckConstraint(
                condition=Q(kind="quote", revision__isnull=False) | (~Q(kind="quote") & Q(revision__isnull=True)),
                name="paper_of_a_quote_has_a_revision",
            ),
            models.CheckConstraint(
                condition=Q(kind="certificate", answer__isnull=False)
                | (~Q(kind="certificate") & Q(answer__isnull=True)),
                name="paper_of_an_acceptance_has_it",
            ),
            models.CheckConstraint(
                condition=Q(kind="change_note", change_note__isnull=False)
                | (~Q(kind="change_note") & Q(change_note__isnull=True)),
                name="paper_of_a_change_note_has_it",
            ),
            models.CheckConstraint(
                condition=Q(kind="order_sheet", order__isnull=False, job__isnull=True)
                | Q(kind__in=OF_NO_JOB, order__isnull=True, job__isnull=True)
                | (~Q(kind__in=["order_sheet", *OF_NO_JOB]) & Q(order__isnull=True, job__isnull=False)),
                name="paper_of_an_order_has_it",
            ),
            models.CheckConstraint(
                condition=Q(kind="request", payment_request__isnull=False)
                | (~Q(kind="request") & Q(payment_request__isnull=True)),
                name="paper_of_a_request_has_it",
            ),
            models.CheckConstraint(
                condition=Q(kind="statement", client__isnull=False) | (~Q(kind="statement") & Q(client__isnull=True)),
                name="paper_of_a_client_has_them",
            ),
            models.CheckConstraint(
                condition=Q(kind="claim_letter", receipt__isnull=False)
                | (~Q(kind="claim_letter") & Q(receipt__isnull=True)),
                name="paper_of_a_claim_has_it",
            ),
        ]

    def __str__(self) -> str:
        return self.title
