from django.db import models
from django.db.models import F, Q
from simple_history.models import HistoricalRecords

from catalog.models import Material
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine
from quoting.changes.models.changes import ChangeDraft, ChangeNote
from quoting.platform.models.bounds import stated


class Substitution(models.Model):
    """Another item in the place of one that cannot come; the original is kept, and the client signs for it.

    draft, note: the change note that carries the difference in price, first being priced, then issued.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="substitutions")
    line = models.ForeignKey(OrderLine, null=True, blank=True, on_delete=models.PROTECT, related_name="substitutions")
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    instead = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    reason = models.TextField()
    draft = models.OneToOneField(
        ChangeDraft, null=True, blank=True, on_delete=models.SET_NULL, related_name="substitution"
    )
    note = models.OneToOneField(
        ChangeNote, null=True, blank=True, on_delete=models.PROTECT, related_name="substitution"
    )
    made_at = models.DateTimeField()
    made_by_name = models.CharField(max_length=200)

    history = HistoricalRecords()

    class Meta:
        ordering = ["-made_at", "-pk"]
        constraints = [
            stated("substitution", "reason", "made_by_name"),
            models.CheckConstraint(condition=~Q(material=F("instead")), name="substitution_is_another_item"),
        ]

    def __str__(self) -> str:
        return f"{self.instead_id} for {self.material_id}"
