from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.core.measure.brought_in import BroughtIn
from quoting.core.prices.checklist import ANSWERS, MAX_ITEM, ChecklistEntry
from quoting.platform.models.bounds import MAX_POSITION, between, one_of, stated
from quoting.platform.models.brought_in import BroughtInColumns
from quoting.pricing.models.pricing import Pricing

ANSWER_CHOICES = [
    ("cost", "A cost is entered"),
    ("included", "Included in something else"),
    ("dismissed", "Does not arise"),
]


class ChecklistAnswer(BroughtInColumns):
    """An item of what gets forgotten, with what was said of it. Under the firm's usual pricing: what is asked."""

    pricing = models.ForeignKey(Pricing, on_delete=models.CASCADE, related_name="checklist")
    order = models.PositiveSmallIntegerField()
    item = models.CharField(max_length=MAX_ITEM)
    answer = models.CharField(max_length=9, blank=True, choices=ANSWER_CHOICES)
    where = models.CharField(max_length=200, blank=True)
    reason = models.TextField(blank=True)
    by = models.CharField("dismissed by", max_length=200, blank=True)
    on = models.DateField("dismissed on", null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        verbose_name = "checklist item"
        constraints = [
            models.UniqueConstraint(fields=["pricing", "item"], name="checklist_item_once"),
            between("checklist", "order", 0, MAX_POSITION),
            stated("checklist", "item"),
            one_of("checklist", "answer", ("", *ANSWERS)),
            models.CheckConstraint(
                condition=~Q(answer="dismissed") | (~Q(reason="") & ~Q(by="") & Q(on__isnull=False)),
                name="checklist_dismissal_is_signed",
            ),
            models.CheckConstraint(
                condition=~Q(answer__in=["cost", "included"]) | ~Q(where=""), name="checklist_answer_says_where"
            ),
        ]

    def __str__(self) -> str:
        return self.item

    def to_core(self) -> ChecklistEntry:
        on = self.on.isoformat() if self.on else ""
        brought = None if self.brought_on is None else BroughtIn(self.brought_by, self.brought_on)
        return ChecklistEntry(self.item, self.answer, self.where, self.reason, self.by, on, brought)  # type: ignore[arg-type]
