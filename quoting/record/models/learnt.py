from django.db import models
from django.db.models import F, Q

from quoting.core.money.learning import FEWEST, LAST
from quoting.platform.models.bounds import between, stated
from quoting.platform.models.columns import figure_column


class LearntStandard(models.Model):
    """A standard the owner took from the record, with what it rested on. Never changed.

    standard: its name, or "waste" and the code of a material. was, value: before and since. used: keys of the jobs.
    left_out: key and reason of each. error_was, error: summed absolute errors of the standard before, and of the
    suggestion in the back-test.
    """

    standard = models.CharField(max_length=120)
    request_key = models.CharField(max_length=100, unique=True)
    was = figure_column()
    value = figure_column()
    typical = figure_column(help_text="The geometric mean of the jobs.")
    count = models.PositiveSmallIntegerField(help_text="Jobs used.")
    used = models.JSONField(default=list)
    left_out = models.JSONField(default=list)
    error_was = figure_column()
    error = figure_column()
    accepted_on = models.DateField()
    accepted_at = models.DateTimeField()
    accepted_by_name = models.CharField(max_length=200)

    class Meta:
        ordering = ["-accepted_at", "-pk"]
        constraints = [
            stated("learnt_standard", "standard", "request_key", "accepted_by_name"),
            between("learnt_standard", "count", FEWEST, LAST),
            *(between("learnt_standard", column, 0, 1_000_000) for column in ("was", "value", "typical")),
            models.CheckConstraint(condition=~Q(was=F("value")), name="learnt_standard_changes_it"),
            models.CheckConstraint(
                condition=Q(error__gte=0, error__lt=F("error_was")), name="learnt_standard_foretells_better"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.standard}: {self.was} to {self.value}"
