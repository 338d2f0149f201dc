"""Rates with the day they start: what the firm enters on its adviser's word, and pays its people."""

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import entry_of
from quoting.core.prices.labour import MAX_HOURS, LabourCost, labour_cost
from quoting.core.prices.tax import TAX_BASES, TAXED_PARTS, TaxRule
from quoting.platform.models.bounds import MAX_MONEY, between, one_of, stated
from quoting.platform.models.columns import figure_column, money_column, normalized

TAXED_PART_CHOICES, TAX_BASIS_CHOICES = (
    list(entry_of(TaxRule, name).options.words) for name in ("applies_to", "basis")
)


class TaxRate(models.Model):
    """A tax of that name is charged at this rate from this day on, until a later rate starts."""

    name = models.CharField(max_length=60)
    rate = figure_column(help_text="As a share: 0.13 is 13 %.")
    applies_to = models.CharField(max_length=9, choices=TAXED_PART_CHOICES, default="price")
    basis = models.CharField(max_length=8, choices=TAX_BASIS_CHOICES, default="document")
    starts_on = models.DateField()

    history = HistoricalRecords()

    class Meta:
        ordering = ["name", "starts_on"]
        constraints = [
            models.UniqueConstraint(fields=["name", "starts_on"], name="tax_rate_once_a_name_and_day"),
            stated("tax_rate", "name"),
            between("tax_rate", "rate", 0, 1),
            one_of("tax_rate", "applies_to", TAXED_PARTS),
            one_of("tax_rate", "basis", TAX_BASES),
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.rate} from {day_words(self.starts_on)}"

    def to_core(self) -> TaxRule:
        return TaxRule(self.name, normalized(self.rate), self.applies_to, self.basis)  # type: ignore[arg-type]


WORKSHEET = (
    "wage",
    "payroll_tax_rate",
    "insurance_rate",
    "health_per_year",
    "other_per_year",
    "paid_hours",
    "unproductive_hours",
)


class LabourRate(models.Model):
    """What an hour of this work costs the firm from this day on, until a later rate starts."""

    name = models.CharField(max_length=100)
    rate = money_column()
    starts_on = models.DateField()
    # The worksheet the rate came from; all of it or nothing.
    wage = money_column(null=True, blank=True, help_text="An hour.")
    payroll_tax_rate = figure_column(null=True, blank=True)
    insurance_rate = figure_column(null=True, blank=True)
    health_per_year = money_column(null=True, blank=True)
    other_per_year = money_column(null=True, blank=True)
    paid_hours = figure_column(null=True, blank=True)
    unproductive_hours = figure_column(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["name", "starts_on"]
        constraints = [
            models.UniqueConstraint(fields=["name", "starts_on"], name="labour_rate_once_a_name_and_day"),
            stated("labour_rate", "name"),
            between("labour_rate", "rate", 0, MAX_MONEY),
            *(between("labour_rate", column, 0, MAX_MONEY) for column in ("wage", "health_per_year", "other_per_year")),
            *(between("labour_rate", column, 0, 1) for column in ("payroll_tax_rate", "insurance_rate")),
            *(between("labour_rate", column, 0, MAX_HOURS) for column in ("paid_hours", "unproductive_hours")),
            models.CheckConstraint(
                condition=Q(**{f"{text}__isnull": True for text in WORKSHEET})
                | Q(**{f"{text}__isnull": False for text in WORKSHEET}),
                name="labour_rate_worksheet_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.rate} from {day_words(self.starts_on)}"

    def worked_out(self) -> LabourCost | None:
        """The worksheet; None for a rate that was entered as it is."""
        if self.wage is None:
            return None
        figures = {name: normalized(getattr(self, name)) for name in WORKSHEET[1:]}
        return labour_cost(self.wage, **figures)
