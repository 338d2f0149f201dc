from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Coalesce
from simple_history.models import HistoricalRecords

from catalog.core.ground.declared import entry_of
from jobs.jobs.models import Job
from quoting.core.prices.costs import CATEGORIES, MAX_QUANTITY, Category
from quoting.core.prices.overhead import MAX_HOURLY, MAX_OVERHEAD, Contingency, OverheadRule
from quoting.core.prices.price_terms import PriceTerms
from quoting.core.prices.pricing import MAX_MARKUP, MODES, PricingPolicy
from quoting.core.prices.tax import TAX_BASES, TAXED_PARTS, TaxRule
from quoting.core.quotes.firm_texts import MAX_PLACE, NoticeChoice, QuoteTexts
from quoting.core.quotes.job_file import MAX_VALID_DAYS, PricingSpec
from quoting.platform.models.bounds import MAX_MONEY, between, one_of, stated, yes_or_no
from quoting.platform.models.columns import figure_column, money_column, normalized
from quoting.pricing.models.tax import TAX_BASIS_CHOICES, TAXED_PART_CHOICES

MODE_CHOICES = list(entry_of(PricingPolicy, "mode").options.words)
MARKUPS: dict[Category, str] = {category: f"markup_{category}" for category in CATEGORIES}
NO_RATES: Mapping[str, Decimal] = MappingProxyType({})
MAX_MARGIN = Decimal("0.99")


class Pricing(models.Model):
    """How a job is priced. The one row without a job is the firm's usual way, which a new job starts from."""

    job = models.OneToOneField(Job, null=True, blank=True, on_delete=models.CASCADE, related_name="pricing")
    version = models.PositiveIntegerField(default=1, help_text="Rises with every change.")
    mode = models.CharField(max_length=6, choices=MODE_CHOICES)
    target_margin = figure_column(null=True, blank=True)
    minimum_margin = figure_column(null=True, blank=True)
    markup_materials = figure_column(null=True, blank=True)
    markup_labour = figure_column(null=True, blank=True)
    markup_subcontract = figure_column(null=True, blank=True)
    markup_other = figure_column(null=True, blank=True)
    entered_materials = money_column(null=True, blank=True, help_text="Empty takes the takeoff's cost.")
    materials_note = models.TextField(blank=True)
    hour_cost = money_column(null=True, blank=True, help_text="Of the walls' own hours; empty leaves them out.")
    tax_name = models.CharField(max_length=60)
    tax_rate = figure_column(null=True, blank=True, help_text="Empty takes the rate in force on the day.")
    tax_applies_to = models.CharField(max_length=9, blank=True, choices=TAXED_PART_CHOICES)
    tax_basis = models.CharField(max_length=8, blank=True, choices=TAX_BASIS_CHOICES)
    hour_rate_name = models.CharField(max_length=100, blank=True, help_text="Not empty takes the rate of the day.")
    overhead_share = figure_column(verbose_name="overhead, share of cost", null=True, blank=True)
    overhead_per_hour = money_column(verbose_name="overhead, labour hour", null=True, blank=True)
    contingency_share = figure_column(verbose_name="contingency, share of cost", null=True, blank=True)
    contingency_shown = models.BooleanField("contingency shown to the client", default=False)
    special_order_cost = money_column(null=True, blank=True)
    valid_days = models.PositiveSmallIntegerField(default=30)
    notice_place = models.CharField(max_length=MAX_PLACE, blank=True, help_text="Empty: no notice is chosen.")
    notice_language = models.CharField(max_length=40, blank=True)

    history = HistoricalRecords()

    class Meta:
        verbose_name_plural = "pricing"
        constraints = [
            models.UniqueConstraint(Coalesce(F("job"), 0), name="pricing_once_a_job_and_once_the_firm"),
            between("pricing", "version", 1, 1_000_000_000),
            one_of("pricing", "mode", MODES),
            between("pricing", "target_margin", 0, MAX_MARGIN),
            between("pricing", "minimum_margin", 0, MAX_MARGIN),
            *(between("pricing", column, 0, MAX_MARKUP) for column in MARKUPS.values()),
            models.CheckConstraint(
                condition=Q(
                    mode="margin", target_margin__isnull=False, **{f"{c}__isnull": True for c in MARKUPS.values()}
                )
                | Q(mode="markup", target_margin__isnull=True),
                name="pricing_mode_and_figures_agree",
            ),
            between("pricing", "entered_materials", 0, MAX_MONEY),
            between("pricing", "hour_cost", 0, MAX_QUANTITY),
            stated("pricing", "tax_name"),
            between("pricing", "tax_rate", 0, 1),
            models.CheckConstraint(
                condition=Q(tax_rate__isnull=True, tax_applies_to="", tax_basis="")
                | Q(tax_rate__isnull=False, tax_applies_to__in=TAXED_PARTS, tax_basis__in=TAX_BASES),
                name="pricing_tax_is_whole_or_by_name",
            ),
            between("pricing", "overhead_share", 0, MAX_OVERHEAD),
            between("pricing", "overhead_per_hour", 0, MAX_HOURLY),
            models.CheckConstraint(
                condition=Q(overhead_share__isnull=True) | Q(overhead_per_hour__isnull=True),
                name="pricing_overhead_goes_one_way",
            ),
            between("pricing", "contingency_share", 0, 1),
            yes_or_no("pricing", "contingency_shown"),
            between("pricing", "special_order_cost", 0, MAX_MONEY),
            between("pricing", "valid_days", 1, MAX_VALID_DAYS),
            models.CheckConstraint(
                condition=Q(notice_place="", notice_language="") | (~Q(notice_place="") & ~Q(notice_language="")),
                name="pricing_notice_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"Pricing of {self.job}" if self.job_id else "The firm's usual pricing"

    @property
    def policy(self) -> PricingPolicy:
        markups = {
            category: normalized(getattr(self, column))
            for category, column in MARKUPS.items()
            if getattr(self, column) is not None
        }
        target, least = (
            None if margin is None else normalized(margin) for margin in (self.target_margin, self.minimum_margin)
        )
        return PricingPolicy(self.mode, target, markups, minimum_margin=least)  # type: ignore[arg-type]

    @property
    def own_tax(self) -> TaxRule | None:
        """The tax as entered here; None when only its name is, and its rate is looked up by the day."""
        if self.tax_rate is None:
            return None
        rate = normalized(self.tax_rate)
        return TaxRule(self.tax_name, rate, self.tax_applies_to, self.tax_basis)  # type: ignore[arg-type]

    @property
    def rate_names(self) -> set[str]:
        """Labour rates this pricing takes by name."""
        return {cost.rate_name for cost in self.costs.all() if cost.rate_name} | ({self.hour_rate_name} - {""})

    @property
    def price_terms(self) -> PriceTerms:
        overhead = None
        if self.overhead_share is not None or self.overhead_per_hour is not None:
            share = None if self.overhead_share is None else normalized(self.overhead_share)
            overhead = OverheadRule(share, self.overhead_per_hour)
        contingency = None
        if self.contingency_share is not None:
            contingency = Contingency(normalized(self.contingency_share), self.contingency_shown)
        return PriceTerms(
            overhead,
            contingency,
            tuple(allowance.to_core() for allowance in self.allowances.all()),
            tuple(option.to_core() for option in self.options.all()),
            tuple(entry.to_core() for entry in self.checklist.all()),
        )

    def to_core(self, tax: TaxRule, rates: Mapping[str, Decimal] = NO_RATES) -> PricingSpec:
        """tax, rates: as in force on the day, the rates of labour by name."""
        deposit = getattr(self, "deposit", None)
        texts: dict[str, list[str]] = {}
        for text in self.texts.all():
            texts.setdefault(text.block, []).append(text.text)
        return PricingSpec(
            policy=self.policy,
            tax=tax,
            entered_materials=self.entered_materials,
            materials_note=self.materials_note,
            costs=tuple(cost.to_core(rates) for cost in self.costs.all()),
            instalments=tuple(term.to_core() for term in self.instalments.all()),
            deposit=deposit.to_core() if deposit else None,
            special_order_cost=self.special_order_cost,
            valid_days=self.valid_days,
            texts=QuoteTexts(**{block: tuple(result) for block, result in texts.items()}),
            hour_cost=rates.get(self.hour_rate_name, self.hour_cost),
            terms=self.price_terms,
            left_out=tuple(entry.key for entry in self.left_out.all()),
            notice=NoticeChoice(self.notice_place, self.notice_language) if self.notice_place else None,
        )
