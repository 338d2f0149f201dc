"""Needs of jobs as rows, so that pages, alerts and feeds read dates without working a job up."""

from django.db import models
from django.db.models import F, Q

from catalog.core.ground.units import UNITS
from catalog.core.leads.lead_times import MAX_PRODUCTION_DAYS, MAX_TRANSIT_WORKDAYS, LeadTerm
from catalog.core.materials.specs import SUPPLIES
from catalog.models.lead_terms import DAY_COUNTS
from catalog.models.materials import SUPPLY_LABELS
from jobs.core.measure.dimension_holds import Hold
from jobs.core.measure.findings import Finding
from jobs.core.ordering.needs import DatedNeed, Want
from jobs.core.ordering.order_by import OrderDates
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import between, one_of, stated, yes_or_no
from quoting.platform.models.columns import figure_column
from quoting.platform.models.core_values import core_value

DRIVERS = ("length", "profile", "radius", "template")
MAX_WORKDAYS = 250
MAX_QUANTITY = 99_999_999
MAX_AMOUNT = 999_999_999_999
DAYS = ("decide_by", "order_by", "ship", "dock")
COUNTED = ("in_hand", "decide_in_hand", "if_ordered_today", "late_workdays")
"""What of a need depends on the day it is read."""

OF_A_FINDING = ("key", "weight", "sentence", "source")
OF_A_HOLD = ("line", "run", "dimension", "words")
"""What is kept of each; a hold's finding stands beside its own texts."""

# As of a set: a bare yes or no keeps SQLite from the index.
LEFT_TO_ORDER, NOT_LEFT_TO_ORDER = Q(to_order__in=[True]), Q(to_order__in=[False])


class StoredNeed(models.Model):
    """One material of one job with its dates, as the last work-up and the day's terms gave them.

    Codes are plain text and names are as of then, so that no row keeps the catalog from changing. Days in hand are
    never kept: they are counted on the day they are read. The row stands while `job.worked` says so.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="needs")
    material = models.CharField(max_length=60)
    name = models.CharField(max_length=200)
    supply = models.CharField(max_length=20, choices=[(name, SUPPLY_LABELS[name]) for name in SUPPLIES])
    supplier = models.CharField(max_length=60, blank=True)
    quantity = figure_column(null=True, blank=True)
    unit = models.CharField(max_length=10, choices=[(name, name) for name in UNITS])
    amount = models.DecimalField(
        max_digits=14, decimal_places=2, null=True, blank=True, help_text="Money; none while a price is missing."
    )
    driven_by = models.CharField(max_length=10, choices=[(name, name) for name in DRIVERS])

    need_by = models.DateField(null=True, blank=True)
    set_by = models.TextField(blank=True, help_text="Where need-by comes from, in words.")
    use_on = models.DateField(null=True, blank=True, help_text="When an activity first wants it.")
    use_words = models.TextField(blank=True)
    stage = models.CharField(max_length=60, blank=True, help_text="Key of the activity that first wants it.")
    agreed_cushion_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    agreed_sign_off_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    agreed_supplier = models.CharField(
        max_length=60, blank=True, help_text="Who it is had from for this job, where not from the preferred one."
    )
    cushion_workdays = models.PositiveSmallIntegerField()
    sign_off_workdays = models.PositiveSmallIntegerField()

    production_days = models.PositiveSmallIntegerField(null=True, blank=True)
    production_counts = models.CharField(max_length=15, choices=DAY_COUNTS, blank=True)
    transit_workdays = models.PositiveSmallIntegerField(null=True, blank=True)
    term_source = models.TextField(blank=True)
    term_stated_on = models.DateField(null=True, blank=True)
    term_stated_by = models.TextField(blank=True)
    planned_workdays = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="Working days accepted for planning in the place of the quoted ones."
    )

    decide_by = models.DateField(null=True, blank=True)
    order_by = models.DateField(null=True, blank=True)
    ship = models.DateField(null=True, blank=True)
    dock = models.DateField(null=True, blank=True)
    cut_off = models.TimeField(null=True, blank=True)

    findings = models.JSONField(default=list, blank=True, help_text="Gaps and cautions: key, weight, sentence.")
    holds = models.JSONField(default=list, blank=True, help_text="Dimensions it is made to that nobody stands for.")
    field_checked_on = models.DateField(
        null=True, blank=True, help_text="From when every dimension it is made to is confirmed on site."
    )
    statement = models.JSONField(default=dict, blank=True, help_text="All a line of an order states, so far as known.")
    missing = models.JSONField(default=list, blank=True, help_text="What an order does not state yet, in sentences.")
    to_order = models.BooleanField(
        default=True, help_text="Something of it is left to order. Kept as orders change; nothing is of a closed job."
    )

    class Meta:
        ordering = ["job", "name", "material"]
        indexes = [
            models.Index(fields=["order_by"], name="stored_need_order_by"),
            models.Index(fields=["to_order", "decide_by"], name="stored_need_left_to_decide"),
            models.Index(fields=["supplier", "order_by"], name="stored_need_supplier"),
            # In the order of lists, with what they count.
            models.Index(
                fields=["to_order", "order_by", "job", "name", "cut_off", "quantity"], name="stored_need_left_to_order"
            ),
        ]
        constraints = [
            models.UniqueConstraint(fields=["job", "material"], name="stored_need_once_a_material"),
            stated("stored_need", "material", "name"),
            one_of("stored_need", "supply", SUPPLIES),
            one_of("stored_need", "unit", UNITS),
            one_of("stored_need", "driven_by", DRIVERS),
            one_of("stored_need", "production_counts", ["", *(name for name, _ in DAY_COUNTS)]),
            between("stored_need", "quantity", 0, MAX_QUANTITY),
            between("stored_need", "amount", 0, MAX_AMOUNT),
            yes_or_no("stored_need", "to_order"),
            between("stored_need", "agreed_cushion_workdays", 0, MAX_WORKDAYS),
            between("stored_need", "agreed_sign_off_workdays", 0, MAX_WORKDAYS),
            between("stored_need", "cushion_workdays", 0, MAX_WORKDAYS),
            between("stored_need", "sign_off_workdays", 0, MAX_WORKDAYS),
            between("stored_need", "production_days", 0, MAX_PRODUCTION_DAYS),
            between("stored_need", "transit_workdays", 0, MAX_TRANSIT_WORKDAYS),
            between("stored_need", "planned_workdays", 0, MAX_PRODUCTION_DAYS + MAX_TRANSIT_WORKDAYS),
            models.CheckConstraint(
                condition=Q(**{f"{name}__isnull": True for name in DAYS})
                | Q(
                    need_by__gte=F("dock"),
                    dock__gte=F("ship"),
                    ship__gte=F("order_by"),
                    order_by__gte=F("decide_by"),
                ),
                name="stored_need_days_in_order",
            ),
            models.CheckConstraint(
                condition=Q(production_days=None, transit_workdays=None, term_stated_on=None, production_counts="")
                | Q(production_days__isnull=False, transit_workdays__isnull=False, term_stated_on__isnull=False)
                & ~Q(production_counts="")
                & ~Q(term_source=""),
                name="stored_need_term_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} of job {self.job_id}"

    @property
    def term(self) -> LeadTerm | None:
        if self.production_days is None:
            return None
        stated = {"source": self.term_source, "stated_on": self.term_stated_on, "stated_by": self.term_stated_by}
        return core_value(LeadTerm, self, **stated)

    @property
    def dates(self) -> OrderDates | None:
        return None if self.order_by is None else core_value(OrderDates, self)

    def to_dated_want(self) -> Want:
        """What its dates follow from: not how much is wanted, nor what holds it."""
        supplier = self.agreed_supplier or None
        return core_value(Want, self, quantity=None, driven_by="length", holds=(), supplier=supplier)

    def to_core(self) -> DatedNeed:
        """The need as it was dated; what depends on the day it is read is left to `counted_on`."""
        return core_value(
            DatedNeed,
            self,
            **dict.fromkeys(COUNTED),
            supplier=self.supplier or None,
            findings=tuple(stored_finding(finding) for finding in self.findings),
            holds=tuple(self._hold(hold) for hold in self.holds),
        )

    def _hold(self, texts: dict[str, str]) -> Hold:
        own = {name: texts[name] for name in OF_A_HOLD}
        return Hold(material=self.material, finding=stored_finding(texts), **own)


def finding_document(finding: Finding) -> dict[str, str]:
    return {name: getattr(finding, name) for name in OF_A_FINDING}


def stored_finding(texts: dict[str, str]) -> Finding:
    return Finding(**{name: texts[name] for name in OF_A_FINDING if name in texts})  # type: ignore[arg-type]
