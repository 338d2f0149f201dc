from django.db import models
from simple_history.models import HistoricalRecords

from quoting.platform.models.bounds import one_of, stated


class Account(models.TextChoices):
    """What has an account of its own at the bookkeeper's."""

    SALES = "sales", "Sales"
    TAX = "tax", "Tax on sales"
    PAYMENTS = "payments", "Payments received"
    MATERIALS = "materials", "Materials"
    LABOUR = "labour", "Labour"
    SUBCONTRACT = "subcontract", "Subcontract"
    OTHER = "other", "Other costs of jobs"
    FREIGHT = "freight", "Freight"
    TAX_PAID = "tax_paid", "Tax on bills"
    OVERHEAD = "overhead", "Overhead"


class AccountCode(models.Model):
    """The account the bookkeeper books it on. Without a row the files leave the code empty."""

    kind = models.CharField(max_length=11, unique=True, choices=Account.choices)
    code = models.CharField(max_length=40)

    history = HistoricalRecords()

    class Meta:
        ordering = ["kind"]
        constraints = [
            one_of("account_code", "kind", Account.values),
            stated("account_code", "code"),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.code}"
