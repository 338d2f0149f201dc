"""What a client answered to a revision: kept as it was given, frozen by the database."""

import json
from typing import Any

from django.db import models
from django.db.models import F, Q

from quoting.platform.models.bounds import between, one_of
from quoting.pricing.models.totals import MAX_TOTAL, total_column, total_is_price_and_tax
from quoting.quotes.models.bases import Answer
from quoting.quotes.models.quotes import Quote, QuoteRevision


class AnswerKind(models.TextChoices):
    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"


class ClientAnswer(Answer):
    """Accepted or declined: of which revision, with which options, by whom, when, from where, on which paper."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="answers")
    revision = models.OneToOneField(QuoteRevision, on_delete=models.PROTECT, related_name="answer")
    answer = models.CharField(max_length=8, choices=AnswerKind.choices)
    options_chosen = models.TextField(default="[]", help_text="A JSON list: key, name and price of each.")
    price = total_column()
    tax = total_column()
    total = total_column()
    cancel_until = models.DateField(null=True, blank=True)
    cancel_words = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-answered_at", "-pk"]
        constraints = [
            one_of("answer", "answer", AnswerKind.values),
            *(between("answer", column, 0, MAX_TOTAL) for column in ("price", "tax", "total")),
            total_is_price_and_tax("answer"),
            *Answer.checks("answer", "accepted"),
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
        result: list[dict[str, Any]] = json.loads(self.options_chosen)
        return result
