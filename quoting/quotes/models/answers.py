"""What a client answered to a revision: kept as it was given, frozen by the database (quoting/frozen.py)."""

import json
from typing import Any

from django.db import models
from django.db.models import F, Q

from quoting.platform.models.bounds import SHA256, between, one_of, stated
from quoting.pricing.models.totals import MOST_TOTAL, total_column, total_is_price_and_tax
from quoting.quotes.models.quotes import Quote, QuoteRevision


class AnswerKind(models.TextChoices):
    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"


class AnswerWay(models.TextChoices):
    PAGE = "page", "On the client's page"
    PAPER = "paper", "On paper, entered by the office"


class ClientAnswer(models.Model):
    """Accepted or declined: of which revision, with which options, by whom, when, from where, on which paper."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="answers")
    revision = models.OneToOneField(QuoteRevision, on_delete=models.PROTECT, related_name="answer")
    answer = models.CharField(max_length=8, choices=AnswerKind.choices)
    way = models.CharField(max_length=5, choices=AnswerWay.choices)
    typed_name = models.CharField(max_length=200)
    reason = models.TextField(blank=True)
    options_chosen = models.TextField(default="[]", help_text="A JSON list: key, name and price of each.")
    price = total_column()
    tax = total_column()
    total = total_column()
    paper_sha256 = models.CharField(max_length=64, blank=True)
    answered_at = models.DateTimeField()
    answered_on = models.DateField(help_text="The day in the firm's time zone.")
    from_address = models.CharField(max_length=45, blank=True)
    entered_by_name = models.CharField(max_length=200, blank=True)
    cancel_until = models.DateField(null=True, blank=True)
    cancel_words = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-answered_at", "-pk"]
        constraints = [
            one_of("answer", "answer", AnswerKind.values),
            one_of("answer", "way", AnswerWay.values),
            stated("answer", "typed_name"),
            *(between("answer", column, 0, MOST_TOTAL) for column in ("price", "tax", "total")),
            total_is_price_and_tax("answer"),
            models.CheckConstraint(
                condition=Q(paper_sha256__regex=SHA256) | Q(answer="declined", paper_sha256=""),
                name="answer_names_the_paper_accepted",
            ),
            models.CheckConstraint(
                condition=Q(way="page", entered_by_name="") | (Q(way="paper") & ~Q(entered_by_name="")),
                name="answer_on_paper_was_entered_by_someone",
            ),
            models.CheckConstraint(
                condition=Q(cancel_until__isnull=True, cancel_words="")
                | (Q(answer="accepted", cancel_until__gte=F("answered_on")) & ~Q(cancel_words="")),
                name="answer_window_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.revision} {self.get_answer_display().lower()} by {self.typed_name}"

    @property
    def options(self) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = json.loads(self.options_chosen)
        return found
