"""Orders to suppliers: what was asked for, by whom it was released, and what each line must be on site for."""

from django.db import models
from django.db.models import F, Q
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from catalog.models import Material, Supplier
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import (
    MAX_MONEY,
    MAX_POSITION,
    SHA256,
    between,
    one_of,
    over_zero,
    stated,
    yes_or_no,
)
from quoting.platform.models.columns import figure_column, money_column
from quoting.platform.models.mail_ways import MailSentOnce, sent_once

MAX_QUANTITY = 1_000_000


class OrderState(models.TextChoices):
    DRAFT = "draft", "Draft"
    PLACED = "placed", "Placed"
    CALLED_OFF = "called_off", "Called off"


class OrderWay(models.TextChoices):
    MAIL = "mail", "By mail from here"
    OTHER = "other", "By phone or counter"


class DeliverTo(models.TextChoices):
    DOCK = "dock", "Our dock"
    SITE = "site", "The site"


class Release(models.Model):
    """A named person lets an item of a job be ordered as it is stated now; what held it then is kept beside it."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="releases")
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    statement = models.JSONField(help_text="What would be ordered, as it stood.")
    statement_mark = models.CharField(max_length=64, help_text="SHA-256 of the statement: another one is not released.")
    holds = models.JSONField(default=list, help_text="Key and sentence of each hold that was set aside.")
    past_holds = models.BooleanField(default=False, help_text="Whether any hold was set aside.")
    reason = models.TextField(blank=True, help_text="Why holds were set aside.")
    released_at = models.DateTimeField()
    released_by_name = models.CharField(max_length=200)
    ended_at = models.DateTimeField(null=True, blank=True)
    ended_by_name = models.CharField(max_length=200, blank=True)
    ended_reason = models.TextField(blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["-released_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "material"], condition=Q(ended_at__isnull=True), name="release_stands_once_an_item"
            ),
            stated("release", "released_by_name"),
            yes_or_no("release", "past_holds"),
            models.CheckConstraint(condition=Q(statement_mark__regex=SHA256), name="release_mark_is_sha256"),
            models.CheckConstraint(condition=Q(past_holds=False) | ~Q(reason=""), name="release_past_a_hold_says_why"),
            models.CheckConstraint(
                condition=Q(ended_at__isnull=True, ended_by_name="")
                | (Q(ended_at__isnull=False) & ~Q(ended_by_name="")),
                name="release_ended_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.material_id} of {self.job_id} released by {self.released_by_name}"


class Order(models.Model):
    """One order to one supplier, for one job or several. Once placed its lines say what was asked, for good."""

    number = models.CharField(max_length=20, unique=True)
    supplier = models.ForeignKey(Supplier, to_field="code", on_delete=models.PROTECT, related_name="orders")
    state = models.CharField(max_length=10, choices=OrderState.choices, default=OrderState.DRAFT)
    version = models.PositiveIntegerField(default=1, help_text="Rises with every change.")
    request_key = models.CharField(max_length=100, unique=True, help_text="Asking twice with it makes one order.")
    note = models.TextField(blank=True, help_text="For the supplier.")
    deliver_to = models.CharField(max_length=4, choices=DeliverTo.choices, default=DeliverTo.DOCK)
    freight = money_column(null=True, blank=True)
    rush_fee = money_column(null=True, blank=True)
    made_at = models.DateTimeField()
    made_by_name = models.CharField(max_length=200)
    way = models.CharField(max_length=5, choices=OrderWay.choices, blank=True)
    placed_at = models.DateTimeField(null=True, blank=True)
    placed_on = models.DateField(null=True, blank=True, help_text="The day in the firm's time zone.")
    counted_from = models.DateField(
        null=True, blank=True, help_text="The day the supplier counts from: the next one after the cut-off hour."
    )
    placed_by_name = models.CharField(max_length=200, blank=True)
    called_off_at = models.DateTimeField(null=True, blank=True)
    called_off_by_name = models.CharField(max_length=200, blank=True)
    called_off_reason = models.TextField(blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["-made_at", "-pk"]
        indexes = [models.Index(fields=["state", "placed_on"], name="order_state_placed_on")]
        constraints = [
            one_of("order", "state", OrderState.values),
            one_of("order", "way", ["", *OrderWay.values]),
            one_of("order", "deliver_to", DeliverTo.values),
            between("order", "version", 1, 1_000_000_000),
            stated("order", "number", "request_key"),
            stated("order", "made_by_name"),
            between("order", "freight", 0, MAX_MONEY),
            between("order", "rush_fee", 0, MAX_MONEY),
            models.CheckConstraint(
                condition=Q(state="draft", placed_at__isnull=True, placed_on__isnull=True, placed_by_name="", way="")
                | Q(state="called_off")
                | (
                    Q(state="placed", placed_at__isnull=False, placed_on__isnull=False, counted_from__isnull=False)
                    & ~Q(placed_by_name="")
                    & ~Q(way="")
                ),
                name="order_placed_by_somebody",
            ),
            models.CheckConstraint(
                condition=~Q(state="called_off")
                | (Q(called_off_at__isnull=False) & ~Q(called_off_by_name="") & ~Q(called_off_reason="")),
                name="order_called_off_says_why",
            ),
        ]

    def __str__(self) -> str:
        return self.number


class OrderLine(models.Model):
    """One item of one job on an order: how much, made how, for when, and what was quoted for it.

    quoted_workdays: of the supplier, from the order to the dock. promised_on: the last promise; the history of
    promises is kept beside it. replaces: the line whose goods came wrong or damaged.
    """

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="lines")
    place = models.PositiveSmallIntegerField()
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="order_lines")
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="order_lines")
    what = models.CharField(max_length=500, help_text="The item as the supplier reads it.")
    quantity = figure_column()
    extra = figure_column(default=0, help_text="How much of the quantity is more than the job wants.")
    extra_reason = models.TextField(blank=True, help_text="Why more is ordered.")
    unit = models.CharField(max_length=40, help_text="What the quantity counts: sticks, pieces, ft.")
    statement = models.JSONField(default=dict, help_text="All the order states of pieces made for the wall.")
    statement_mark = models.CharField(max_length=64)
    release = models.ForeignKey(Release, null=True, blank=True, on_delete=models.PROTECT, related_name="lines")
    unit_price = money_column(null=True, blank=True)
    amount = money_column(null=True, blank=True)
    rush = models.BooleanField(default=False)
    need_by = models.DateField(null=True, blank=True)
    order_by = models.DateField(null=True, blank=True, help_text="As it stood when the order was placed.")
    quoted_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    quoted_dock_on = models.DateField(null=True, blank=True, help_text="The day it should be here, as quoted.")
    promised_on = models.DateField(null=True, blank=True)
    replaces = models.ForeignKey("self", null=True, blank=True, on_delete=models.PROTECT, related_name="replaced_by")
    ended_on = models.DateField(null=True, blank=True, help_text="No more of it is expected from this day on.")
    ended_reason = models.TextField(blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "place", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["order", "place"], name="order_line_once_a_place"),
            between("order_line", "place", 0, MAX_POSITION),
            stated("order_line", "what", "unit"),
            over_zero("order_line", "quantity", MAX_QUANTITY),
            between("order_line", "extra", 0, MAX_QUANTITY),
            models.CheckConstraint(
                condition=Q(extra__lte=F("quantity")) & (Q(extra=0) | ~Q(extra_reason="")),
                name="order_line_of_more_says_why",
            ),
            yes_or_no("order_line", "rush"),
            between("order_line", "unit_price", 0, MAX_MONEY),
            between("order_line", "amount", 0, MAX_MONEY),
            between("order_line", "quoted_workdays", 0, 2_000),
            models.CheckConstraint(condition=Q(statement_mark__regex=SHA256), name="order_line_mark_is_sha256"),
            models.CheckConstraint(
                condition=Q(ended_on__isnull=True) | ~Q(ended_reason=""), name="order_line_ended_says_why"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.order_id}/{self.place} {self.what}"


class Promise(models.Model):
    """A day the supplier gave for a line, and why it is another than before. Never changed: a new one is added."""

    line = models.ForeignKey(OrderLine, on_delete=models.CASCADE, related_name="promises")
    promised_on = models.DateField()
    reason = models.TextField(blank=True)
    told_by = models.CharField(max_length=200, blank=True)
    told_on = models.DateField()
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    class Meta:
        ordering = ["entered_at", "pk"]
        constraints = [stated("promise", "entered_by_name")]

    def __str__(self) -> str:
        return f"{self.line_id} by {day_words(self.promised_on)}"


class OrderMail(MailSentOnce):
    """An order sheet sent to a supplier once; begun before it is handed to the mail server, as a quote's is."""

    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="mails")

    class Meta(MailSentOnce.Meta):
        constraints = [
            *sent_once("order_mail"),
            stated("order_mail", "request_key", "to_address"),
            stated("order_mail", "asked_by_name"),
        ]

    def __str__(self) -> str:
        return f"{self.order_id} to {self.to_address}"


class SignOff(models.Model):
    """A sample or a choice somebody agreed to, without which an item made to order is not released."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="sign_offs")
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    what = models.CharField(max_length=300, help_text="The sample or the choice: profile, size, grade, colour.")
    asked_on = models.DateField(null=True, blank=True)
    agreed_on = models.DateField(null=True, blank=True)
    agreed_by = models.CharField(max_length=200, blank=True)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["-entered_at", "-pk"]
        constraints = [
            stated("sign_off", "what", "entered_by_name"),
            models.CheckConstraint(
                condition=Q(agreed_on__isnull=True, agreed_by="") | (Q(agreed_on__isnull=False) & ~Q(agreed_by="")),
                name="sign_off_agreed_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return self.what
