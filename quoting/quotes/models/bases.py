"""What a revision and a change note have in common, and the answers to them."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from quoting.platform.models.bounds import SHA256, one_of, stated
from quoting.pricing.models.totals import total_column, total_is_price_and_tax


class AnswerWay(models.TextChoices):
    PAGE = "page", "On the client's page"
    PAPER = "paper", "On paper, entered by the office"


class IssuedPaper(models.Model):
    request_key = models.CharField(max_length=100, unique=True, help_text="Asking twice with it issues once.")
    currency = models.CharField(max_length=3)
    price = total_column()
    tax = total_column()
    total = total_column()
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    issued_by_name = models.CharField(max_length=200)
    snapshot_sha256 = models.CharField(max_length=64)
    state_by_name = models.CharField(max_length=200, blank=True)
    state_reason = models.TextField(blank=True)

    class Meta:
        abstract = True

    @staticmethod
    def checks(table: str) -> list[models.CheckConstraint]:
        return [
            models.CheckConstraint(condition=Q(currency__regex=r"^[A-Z]{3}$"), name=f"{table}_currency_is_a_code"),
            models.CheckConstraint(condition=Q(snapshot_sha256__regex=SHA256), name=f"{table}_hash_is_sha256"),
            total_is_price_and_tax(table),
        ]


class Statement(models.Model):
    """entered_by_name: of the firm, unless the client wrote it on their own page."""

    typed_name = models.CharField(max_length=200)
    reason = models.TextField(blank=True)
    from_address = models.CharField(max_length=45, blank=True)
    entered_by_name = models.CharField(max_length=200, blank=True)

    class Meta:
        abstract = True


class Answer(Statement):
    way = models.CharField(max_length=5, choices=AnswerWay.choices)
    paper_sha256 = models.CharField(max_length=64, blank=True)
    answered_at = models.DateTimeField()
    answered_on = models.DateField(help_text="The day in the firm's time zone.")

    class Meta:
        abstract = True

    @staticmethod
    def checks(table: str, paper: str) -> list[models.CheckConstraint]:
        """paper: what is done to the paper by agreeing to it."""
        return [
            one_of(table, "way", AnswerWay.values),
            stated(table, "typed_name"),
            models.CheckConstraint(
                condition=Q(paper_sha256__regex=SHA256) | Q(answer="declined", paper_sha256=""),
                name=f"{table}_names_the_paper_{paper}",
            ),
            models.CheckConstraint(
                condition=Q(way="page", entered_by_name="") | (Q(way="paper") & ~Q(entered_by_name="")),
                name=f"{table}_on_paper_was_entered_by_someone",
            ),
        ]
