"""Changes of what was agreed: drafts, which may be changed, and the numbered notes made of them, which are frozen."""

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.jobs.models import Job
from quoting.core.changes.change_document import KIND_WORDS
from quoting.core.changes.change_notes import COST_CATEGORIES, KINDS, MAX_DAYS_MOVED, ChangeCost
from quoting.core.changes.days_moved import MAX_HOURS_MOVED
from quoting.core.prices.costs import MAX_QUANTITY
from quoting.platform.models.bounds import MAX_MONEY, MAX_POSITION, between, one_of, stated
from quoting.platform.models.columns import figure_column
from quoting.platform.models.core_values import core_value
from quoting.pricing.models.totals import MAX_TOTAL, total_column
from quoting.quotes.models.bases import Answer, IssuedPaper
from quoting.quotes.models.quotes import QuoteRevision

KIND_CHOICES = list(KIND_WORDS)


def either_sign(table: str, *columns: str) -> list[models.CheckConstraint]:
    return [between(table, column, -MAX_TOTAL, MAX_TOTAL) for column in columns]


def cost_column() -> models.DecimalField:
    return models.DecimalField(null=True, blank=True, max_digits=14, decimal_places=2)


def days_in_bounds(table: str) -> models.CheckConstraint:
    return between(table, "days_moved", -MAX_DAYS_MOVED, MAX_DAYS_MOVED)


class ChangeDraft(models.Model):
    """A change being priced. Nothing of it counts before it is issued and signed."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="change_drafts")
    version = models.PositiveIntegerField(default=1, help_text="Rises with every change.")
    kind = models.CharField(max_length=12, choices=KIND_CHOICES)
    title = models.CharField(max_length=200)
    reason = models.TextField()
    days_moved = models.SmallIntegerField(default=0, help_text="Working days by which the work is done later.")
    original = models.TextField(blank=True, help_text="What was agreed, where something takes its place.")
    replacement = models.TextField(blank=True)
    allowance = models.CharField(max_length=200, blank=True)
    walls_mark = models.CharField(max_length=64, blank=True, help_text="Of the job as the lines were worked out.")
    hours_moved = models.DecimalField(null=True, blank=True, max_digits=8, decimal_places=1, help_text="Man-hours.")
    days_proposed = models.SmallIntegerField(null=True, blank=True, help_text="By the hours; nothing until entered.")
    made_at = models.DateTimeField()
    made_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["-made_at", "-pk"]
        constraints = [
            between("change_draft", "version", 1, 1_000_000_000),
            one_of("change_draft", "kind", KINDS),
            stated("change_draft", "title", "reason"),
            stated("change_draft", "made_by_name"),
            days_in_bounds("change_draft"),
            between("change_draft", "days_proposed", -MAX_DAYS_MOVED, MAX_DAYS_MOVED),
            between("change_draft", "hours_moved", -MAX_HOURS_MOVED, MAX_HOURS_MOVED),
            models.CheckConstraint(
                condition=~Q(kind="substitution") | (~Q(original="") & ~Q(replacement="")),
                name="change_draft_substitution_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"Draft: {self.title}"


class ChangeDraftLine(models.Model):
    """taxed: the part of the price that tax is charged on; with the price's own sign and no further from 0.

    cost: what it costs the firm, None while nobody has said.
    """

    draft = models.ForeignKey(ChangeDraft, on_delete=models.CASCADE, related_name="lines")
    order = models.PositiveSmallIntegerField()
    what = models.CharField(max_length=200)
    price = total_column()
    taxed = total_column()
    cost = cost_column()

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            between("change_draft_line", "order", 0, MAX_POSITION),
            stated("change_draft_line", "what"),
            *(between("change_draft_line", column, -MAX_MONEY, MAX_MONEY) for column in ("price", "taxed", "cost")),
        ]

    def __str__(self) -> str:
        return f"{self.what}: {self.price}"


class CostLine(models.Model):
    """A line of what a change costs the firm. what: its name where the item is a key."""

    order = models.PositiveSmallIntegerField()
    category = models.CharField(max_length=11)
    item = models.CharField(max_length=200)
    what = models.CharField(max_length=200, blank=True)
    quantity = figure_column()
    unit_cost = figure_column()

    class Meta:
        abstract = True

    def to_core(self) -> ChangeCost:
        return core_value(ChangeCost, self)

    @staticmethod
    def checks(table: str) -> list[models.CheckConstraint]:
        return [
            between(table, "order", 0, MAX_POSITION),
            one_of(table, "category", COST_CATEGORIES),
            stated(table, "item"),
            between(table, "quantity", -MAX_QUANTITY, MAX_QUANTITY),
            between(table, "unit_cost", 0, MAX_QUANTITY),
        ]


class ChangeDraftCost(CostLine):
    draft = models.ForeignKey(ChangeDraft, on_delete=models.CASCADE, related_name="costs")

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = CostLine.checks("change_draft_cost")

    def __str__(self) -> str:
        return f"{self.item}: {self.quantity} at {self.unit_cost}"


class ChangeState(models.TextChoices):
    ISSUED = "issued", "Waits for a signature"
    SIGNED = "signed", "Signed"
    DECLINED = "declined", "Declined"
    WITHDRAWN = "withdrawn", "Withdrawn"


class ChangeNote(IssuedPaper):
    """A change as it was put to the client: numbered within the job, frozen, and part of the contract once signed."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="change_notes")
    revision = models.ForeignKey(QuoteRevision, on_delete=models.PROTECT, related_name="change_notes")
    number = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=12, choices=KIND_CHOICES)
    title = models.CharField(max_length=200)
    reason = models.TextField()
    original = models.TextField(blank=True)
    replacement = models.TextField(blank=True)
    days_moved = models.SmallIntegerField()
    issued_on = models.DateField(help_text="The day in the firm's time zone.")
    snapshot = models.TextField(help_text="The filled paper, and the job as it was worked out, where it was.")

    state = models.CharField(max_length=10, choices=ChangeState.choices, default=ChangeState.ISSUED)
    state_at = models.DateTimeField()

    class Meta:
        ordering = ["job", "number"]
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="change_note_number_once_a_job"),
            between("change_note", "number", 1, 10_000),
            one_of("change_note", "kind", KINDS),
            one_of("change_note", "state", ChangeState.values),
            stated("change_note", "request_key", "title"),
            stated("change_note", "reason", "snapshot"),
            stated("change_note", "issued_by_name"),
            days_in_bounds("change_note"),
            *either_sign("change_note", "price", "tax", "total"),
            *IssuedPaper.checks("change_note"),
        ]

    def __str__(self) -> str:
        return f"Change note {self.number} of {self.job.key}"


class ChangeNoteLine(models.Model):
    note = models.ForeignKey(ChangeNote, on_delete=models.PROTECT, related_name="lines")
    order = models.PositiveSmallIntegerField()
    what = models.CharField(max_length=200)
    price = total_column()
    taxed = total_column()
    cost = cost_column()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["note", "order"], name="change_note_line_once_a_place"),
            between("change_note_line", "order", 0, MAX_POSITION),
            stated("change_note_line", "what"),
            *either_sign("change_note_line", "price", "taxed", "cost"),
        ]

    def __str__(self) -> str:
        return f"{self.what}: {self.price}"


class ChangeNoteCost(CostLine):
    """Frozen with the note."""

    note = models.ForeignKey(ChangeNote, on_delete=models.PROTECT, related_name="costs")

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["note", "order"], name="change_note_cost_once_a_place"),
            *CostLine.checks("change_note_cost"),
        ]

    def __str__(self) -> str:
        return f"{self.item}: {self.quantity} at {self.unit_cost}"


class ChangeAnswer(Answer):
    """Signed or declined: by whom, when, from where, on which paper. Frozen with the note."""

    note = models.OneToOneField(ChangeNote, on_delete=models.PROTECT, related_name="answer")
    answer = models.CharField(max_length=8, choices=[("signed", "Signed"), ("declined", "Declined")])

    class Meta:
        constraints = [
            one_of("change_answer", "answer", ["signed", "declined"]),
            *Answer.checks("change_answer", "signed"),
        ]

    def __str__(self) -> str:
        return f"{self.note} {self.get_answer_display().lower()} by {self.typed_name}"
