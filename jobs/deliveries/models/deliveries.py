"""What came: checked in on site or in the yard, good, damaged, wrong or too much; claims, and what went back."""

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from jobs.core.ordering.line_pieces import PIECE_STATES
from jobs.orders.models.orders import MAX_QUANTITY, Order, OrderLine
from quoting.platform.models.bounds import MAX_MONEY, between, one_of, over_zero, stated
from quoting.platform.models.columns import figure_column, money_column
from quoting.platform.models.pictures import KeptPicture


class ClaimOutcome(models.TextChoices):
    REPLACED = "replaced", "Made again"
    CREDITED = "credited", "Credited"
    KEPT = "kept", "Kept as it is"
    REFUSED = "refused", "Refused by the supplier"


class Delivery(models.Model):
    """One arrival of goods of one order, checked in once however often it is sent."""

    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="deliveries")
    request_key = models.CharField(max_length=100, unique=True, help_text="Made on the phone: twice sent, once kept.")
    received_on = models.DateField(help_text="The day it came, in the firm's time zone.")
    note = models.TextField(blank=True)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    class Meta:
        ordering = ["received_on", "pk"]
        verbose_name_plural = "deliveries"
        constraints = [stated("delivery", "request_key", "entered_by_name")]

    def __str__(self) -> str:
        return f"Delivery of {day_words(self.received_on)}, order {self.order}"


class ReceiptLine(models.Model):
    """How much of one order line came and how; with what was quoted and promised at that time, for the record.

    quoted_workdays, actual_workdays: of the supplier, from the day the order counts from. promised_on: the promise
    as it stood when it came.
    """

    delivery = models.ForeignKey(Delivery, on_delete=models.PROTECT, related_name="lines")
    line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, related_name="receipts")
    good = figure_column(default=0)
    damaged = figure_column(default=0)
    wrong = figure_column(default=0)
    note = models.TextField(blank=True)
    quoted_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    promised_on = models.DateField(null=True, blank=True)
    actual_workdays = models.PositiveSmallIntegerField()
    claim_by = models.DateField(null=True, blank=True, help_text="The last day to tell the supplier.")
    claimed_on = models.DateField(null=True, blank=True)
    claimed_by_name = models.CharField(max_length=200, blank=True)
    outcome = models.CharField(max_length=8, choices=ClaimOutcome.choices, blank=True)
    outcome_on = models.DateField(null=True, blank=True)
    outcome_note = models.TextField(blank=True)
    credit = money_column(null=True, blank=True)
    credited = money_column(null=True, blank=True, help_text="What came in on credits that name it.")
    credited_on = models.DateField(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["delivery", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["delivery", "line"], name="receipt_line_once_a_delivery"),
            *(between("receipt_line", column, 0, MAX_QUANTITY) for column in ("good", "damaged", "wrong")),
            models.CheckConstraint(
                condition=Q(good__gt=0) | Q(damaged__gt=0) | Q(wrong__gt=0), name="receipt_line_of_something"
            ),
            between("receipt_line", "quoted_workdays", 0, 2_000),
            between("receipt_line", "actual_workdays", 0, 5_000),
            one_of("receipt_line", "outcome", ["", *ClaimOutcome.values]),
            between("receipt_line", "credit", 0, MAX_MONEY),
            between("receipt_line", "credited", 0, MAX_MONEY),
            models.CheckConstraint(
                condition=Q(credited__isnull=True, credited_on__isnull=True)
                | Q(credited__isnull=False, credited_on__isnull=False),
                name="receipt_line_credit_has_a_day",
            ),
            models.CheckConstraint(
                condition=Q(claimed_on__isnull=True, claimed_by_name="")
                | (Q(claimed_on__isnull=False) & ~Q(claimed_by_name="")),
                name="receipt_line_claimed_by_somebody",
            ),
            models.CheckConstraint(
                condition=Q(outcome="", outcome_on__isnull=True) | (~Q(outcome="") & Q(outcome_on__isnull=False)),
                name="receipt_line_outcome_has_a_day",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.line_id}: {self.good} good"


class ReceivedPiece(models.Model):
    """How one piece of an order line came. number: of the line, as `jobs.core.ordering.line_pieces` counts them."""

    receipt = models.ForeignKey(ReceiptLine, on_delete=models.CASCADE, related_name="pieces")
    number = models.PositiveSmallIntegerField()
    state = models.CharField(max_length=7, choices=[(name, name) for name in PIECE_STATES])

    class Meta:
        ordering = ["receipt", "number"]
        constraints = [
            models.UniqueConstraint(fields=["receipt", "number"], name="received_piece_once_a_receipt"),
            between("received_piece", "number", 1, 10_000),
            one_of("received_piece", "state", PIECE_STATES),
        ]

    def __str__(self) -> str:
        return f"Piece {self.number} of receipt {self.receipt_id}, {self.state}"


class ReceiptPhoto(KeptPicture):
    """A photo of what came."""

    receipt = models.ForeignKey(ReceiptLine, on_delete=models.PROTECT, related_name="photos")
    caption = models.CharField(max_length=200)

    class Meta:
        ordering = ["pk"]
        constraints = [
            *KeptPicture.checks("receipt_photo", "caption"),
            models.UniqueConstraint(fields=["receipt", "sha256"], name="receipt_photo_once_a_receipt"),
        ]

    def __str__(self) -> str:
        return self.caption


class ReturnedGoods(models.Model):
    """What went back to the supplier, and what was credited for it."""

    line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, related_name="returns")
    request_key = models.CharField(max_length=100, unique=True)
    quantity = figure_column()
    sent_on = models.DateField()
    reason = models.TextField()
    credit_expected = money_column(null=True, blank=True)
    credited = money_column(null=True, blank=True)
    credited_on = models.DateField(null=True, blank=True)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["sent_on", "pk"]
        verbose_name_plural = "returned goods"
        constraints = [
            stated("returned_goods", "request_key", "reason", "entered_by_name"),
            over_zero("returned_goods", "quantity", MAX_QUANTITY),
            between("returned_goods", "credit_expected", 0, MAX_MONEY),
            between("returned_goods", "credited", 0, MAX_MONEY),
            models.CheckConstraint(
                condition=Q(credited__isnull=True, credited_on__isnull=True)
                | Q(credited__isnull=False, credited_on__isnull=False),
                name="returned_goods_credit_has_a_day",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} of {self.line_id} back"
