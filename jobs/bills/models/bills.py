"""Bills and credits of suppliers and shops, their lines as they count, and what was accepted that differs."""

from decimal import Decimal

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower
from simple_history.models import HistoricalRecords

from catalog.models import Supplier
from jobs.deliveries.models import ReceiptLine, ReturnedGoods
from jobs.jobs.models.jobs import Job
from jobs.orders.models.orders import MAX_QUANTITY, Order, OrderLine
from quoting.platform.models.bounds import MAX_MONEY, MAX_POSITION, between, one_of, stated
from quoting.platform.models.columns import figure_column, money_column
from quoting.platform.models.pictures import KeptPicture
from quoting.platform.models.posted import Posted, Voidable, first_of_month, voided_says_why


class BillKind(models.TextChoices):
    BILL = "bill", "Bill"
    CREDIT = "credit", "Credit"


class Category(models.TextChoices):
    MATERIALS = "materials", "Materials"
    LABOUR = "labour", "Labour"
    SUBCONTRACT = "subcontract", "Subcontract"
    OTHER = "other", "Other"
    FREIGHT = "freight", "Freight"
    OVERHEAD = "overhead", "Not for a job"


_IS_ENTERED = Q(entered_at__isnull=False, posted_month__isnull=False) & ~Q(entered_by_name="")
_IS_DRAFT = Q(entered_at__isnull=True, posted_month__isnull=True, entered_by_name="")


class Bill(Posted, Voidable):
    """tax, freight, total: as printed, zero or more; `sign` says how they count. reverses: the bill of a closed month
    that it takes back. number_key: the number without spaces, hyphens and case."""

    request_key = models.CharField(max_length=100, unique=True, help_text="Sent twice with it, kept once.")
    kind = models.CharField(max_length=6, choices=BillKind.choices, default=BillKind.BILL)
    supplier = models.ForeignKey(
        Supplier, to_field="code", null=True, blank=True, on_delete=models.PROTECT, related_name="bills"
    )
    shop = models.CharField(max_length=200, blank=True, help_text="Of a small purchase: who it was bought from.")
    number = models.CharField(max_length=60, blank=True)
    number_key = models.CharField(max_length=60, blank=True)
    again = models.PositiveSmallIntegerField(default=0, help_text="How often this number was voided before.")
    posted_month = models.DateField(
        null=True, blank=True, db_index=True, help_text="First day of the month it counts in; a draft counts in none."
    )
    due = models.DateField(null=True, blank=True)
    tax = money_column(default=Decimal(0))
    freight = money_column(default=Decimal(0))
    total = money_column(null=True, blank=True)
    note = models.CharField(max_length=300, blank=True)
    reverses = models.OneToOneField("self", null=True, blank=True, on_delete=models.PROTECT, related_name="reversed_by")
    version = models.PositiveIntegerField(default=1, help_text="Rises with every change.")
    made_at = models.DateTimeField()
    made_by_name = models.CharField(max_length=200)
    entered_at = models.DateTimeField(null=True, blank=True)
    entered_by_name = models.CharField(max_length=200, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["-day", "-pk"]
        constraints = [
            stated("bill", "request_key"),
            stated("bill", "made_by_name"),
            one_of("bill", "kind", BillKind.values),
            between("bill", "tax", 0, MAX_MONEY),
            between("bill", "freight", 0, MAX_MONEY),
            between("bill", "total", 0, MAX_MONEY),
            between("bill", "again", 0, 30_000),
            between("bill", "version", 1, 1_000_000_000),
            first_of_month("bill"),
            voided_says_why("bill"),
            models.CheckConstraint(
                condition=Q(supplier__isnull=True) | Q(shop=""), name="bill_of_a_supplier_or_a_shop"
            ),
            models.CheckConstraint(
                condition=_IS_DRAFT
                | (
                    _IS_ENTERED & ~Q(number_key="") & Q(total__isnull=False) & (Q(supplier__isnull=False) | ~Q(shop=""))
                ),
                name="bill_draft_or_entered_whole",
            ),
            models.UniqueConstraint(
                fields=["supplier", "kind", "number_key", "again"],
                condition=Q(supplier__isnull=False, entered_at__isnull=False, reverses__isnull=True),
                name="bill_number_once_a_supplier",
            ),
            models.UniqueConstraint(
                Lower("shop"),
                F("kind"),
                F("number_key"),
                F("again"),
                condition=Q(supplier__isnull=True, entered_at__isnull=False, reverses__isnull=True),
                name="bill_number_once_a_shop",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.number or 'without a number'}"

    @property
    def is_draft(self) -> bool:
        return self.entered_at is None

    @property
    def is_voided(self) -> bool:
        """In its own month, or taken back by a bill of a later one."""
        return self.voided_at is not None or hasattr(self, "reversed_by")

    @property
    def state(self) -> str:
        return "voided" if self.is_voided else "draft" if self.is_draft else "entered"

    @property
    def seller(self) -> str:
        return self.supplier.name if self.supplier else self.shop

    @property
    def sign(self) -> int:
        """By which its printed amounts count as cost."""
        return (-1 if self.kind == BillKind.CREDIT else 1) * (-1 if self.reverses_id else 1)


class BillLine(models.Model):
    """quantity, amount, tax: as they count, under zero on a credit. tax: of the bill's, what the firm cannot reclaim.
    order: of a share of freight, the order it was for. receipt, returned: what a credit settles."""

    bill = models.ForeignKey(Bill, on_delete=models.PROTECT, related_name="lines")
    place = models.PositiveSmallIntegerField()
    job = models.ForeignKey(Job, null=True, blank=True, on_delete=models.PROTECT, related_name="bill_lines")
    category = models.CharField(max_length=11, choices=Category.choices)
    item = models.CharField(max_length=200, blank=True, help_text="Key of the step, code of the material, name of it.")
    what = models.CharField(max_length=500)
    quantity = figure_column()
    unit_price = figure_column()
    amount = money_column()
    tax = money_column(default=Decimal(0))
    tag = models.CharField(max_length=20, blank=True)
    order_line = models.ForeignKey(
        OrderLine, null=True, blank=True, on_delete=models.PROTECT, related_name="bill_lines"
    )
    order = models.ForeignKey(Order, null=True, blank=True, on_delete=models.PROTECT, related_name="bill_freight")
    receipt = models.ForeignKey(ReceiptLine, null=True, blank=True, on_delete=models.PROTECT, related_name="credits")
    returned = models.ForeignKey(
        ReturnedGoods, null=True, blank=True, on_delete=models.PROTECT, related_name="credit_lines"
    )

    class Meta:
        ordering = ["bill", "place"]
        constraints = [
            models.UniqueConstraint(fields=["bill", "place"], name="bill_line_once_a_place"),
            one_of("bill_line", "category", Category.values),
            stated("bill_line", "what"),
            between("bill_line", "place", 0, MAX_POSITION),
            between("bill_line", "quantity", -MAX_QUANTITY, MAX_QUANTITY),
            between("bill_line", "unit_price", 0, 10_000_000),
            between("bill_line", "amount", -MAX_MONEY, MAX_MONEY),
            between("bill_line", "tax", -MAX_MONEY, MAX_MONEY),
            models.CheckConstraint(
                condition=Q(job__isnull=True, category="overhead") | (Q(job__isnull=False) & ~Q(category="overhead")),
                name="bill_line_of_a_job_or_overhead",
            ),
            models.CheckConstraint(
                condition=Q(receipt__isnull=True) | Q(returned__isnull=True), name="bill_line_settles_one_thing"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.bill_id}/{self.place} {self.what}"


class AcceptedDifference(models.Model):
    """What of an entered bill differs from the order, its confirmation or the receipts, and who stands for it."""

    bill = models.ForeignKey(Bill, on_delete=models.PROTECT, related_name="accepted")
    sentence = models.CharField(max_length=500)
    accepted_by_name = models.CharField(max_length=200)
    accepted_at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]
        constraints = [
            stated("accepted_difference", "sentence", "accepted_by_name"),
            models.UniqueConstraint(fields=["bill", "sentence"], name="accepted_difference_once_a_bill"),
        ]

    def __str__(self) -> str:
        return self.sentence


class BillPhoto(KeptPicture):
    """A photo of the slip."""

    bill = models.ForeignKey(Bill, on_delete=models.PROTECT, related_name="photos")

    class Meta:
        ordering = ["pk"]
        constraints = [
            *KeptPicture.checks("bill_photo"),
            models.UniqueConstraint(fields=["bill", "sha256"], name="bill_photo_once_a_bill"),
        ]

    def __str__(self) -> str:
        return f"Photo of bill {self.bill_id}"
