"""When the client pays, and what the paper says beside the figures."""

from decimal import Decimal
from fractions import Fraction

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from quoting.core.prices import payments as core
from quoting.platform.models.bounds import MAX_MONEY, MAX_POSITION, between, one_of, stated, yes_or_no
from quoting.platform.models.columns import money_column
from quoting.pricing.models.pricing import Pricing
from quoting.pricing.models.shares import count_column, join_share, share_in_bounds
from quoting.texts.models.firm_texts import BLOCK_CHOICES, BLOCKS


class InstalmentTerm(models.Model):
    """A share of the total that falls due at an event."""

    pricing = models.ForeignKey(Pricing, on_delete=models.CASCADE, related_name="instalments")
    order = models.PositiveSmallIntegerField()
    event = models.CharField(max_length=200)
    share_count = count_column()
    share_parts = count_column()

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            between("instalment_term", "order", 0, MAX_POSITION),
            stated("instalment_term", "event"),
            share_in_bounds("instalment_term", "share_count", "share_parts"),
        ]

    def __str__(self) -> str:
        return f"{self.event}: {self.share}"

    @property
    def share(self) -> Decimal | Fraction:
        return join_share(self.share_count, self.share_parts)

    def to_core(self) -> core.Instalment:
        return core.Instalment(self.event, self.share)


class DepositTerm(models.Model):
    """How the deposit is set, and the limit of the law as the firm has entered it."""

    pricing = models.OneToOneField(Pricing, on_delete=models.CASCADE, related_name="deposit")
    share_count = count_column()
    share_parts = count_column()
    at_most = money_column(null=True, blank=True)
    covers_special_orders = models.BooleanField(default=False)
    legal_share_count = count_column(null=True, blank=True)
    legal_share_parts = count_column(null=True, blank=True)
    legal_amount = money_column(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        constraints = [
            share_in_bounds("deposit_term", "share_count", "share_parts", least=0),
            share_in_bounds("deposit_term", "legal_share_count", "legal_share_parts", least=0),
            models.CheckConstraint(
                condition=Q(legal_share_count__isnull=True, legal_share_parts__isnull=True)
                | Q(legal_share_count__isnull=False, legal_share_parts__isnull=False),
                name="deposit_term_legal_share_is_whole",
            ),
            between("deposit_term", "at_most", 0, MAX_MONEY),
            between("deposit_term", "legal_amount", 0, MAX_MONEY),
            yes_or_no("deposit_term", "covers_special_orders"),
            models.CheckConstraint(
                condition=Q(at_most__isnull=True) | Q(covers_special_orders=False),
                name="deposit_term_is_limited_or_raised",
            ),
        ]

    def __str__(self) -> str:
        return f"Deposit {join_share(self.share_count, self.share_parts)}"

    def to_core(self) -> core.DepositRule:
        legal = None
        if self.legal_share_count is not None and self.legal_share_parts is not None:
            legal = join_share(self.legal_share_count, self.legal_share_parts)
        return core.DepositRule(
            join_share(self.share_count, self.share_parts),
            self.at_most,
            self.covers_special_orders,
            legal,
            self.legal_amount,
        )


class QuoteText(models.Model):
    """One sentence of a block of the paper."""

    pricing = models.ForeignKey(Pricing, on_delete=models.CASCADE, related_name="texts")
    block = models.CharField(max_length=11, choices=BLOCK_CHOICES)
    order = models.PositiveSmallIntegerField()
    text = models.TextField()

    class Meta:
        ordering = ["block", "order", "pk"]
        constraints = [
            one_of("quote_text", "block", BLOCKS),
            between("quote_text", "order", 0, MAX_POSITION),
            stated("quote_text", "text"),
        ]

    def __str__(self) -> str:
        return self.text
