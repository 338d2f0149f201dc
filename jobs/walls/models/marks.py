from django.db import models
from simple_history.models import HistoricalRecords

from jobs.core.measure.dimension_status import HOW_KNOWN, DimensionStatus, MarkedDimension
from jobs.walls.models.brought_in import brought_in_of
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import one_of, stated
from quoting.platform.models.brought_in import ConfirmedColumns
from quoting.platform.models.core_values import core_value


class DimensionMark(ConfirmedColumns):
    """How one dimension of a wall is known: who says so, and since when."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="marks")
    dimension = models.CharField(max_length=60, help_text="Its place in the wall's document, such as pieces[0].rise.")
    how = models.CharField(max_length=9, choices=[(how, how) for how in HOW_KNOWN])
    by = models.CharField(max_length=200)
    on = models.DateField()

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["wall", "dimension"], name="dimension_mark_once_a_wall"),
            stated("dimension_mark", "dimension", "by"),
            one_of("dimension_mark", "how", HOW_KNOWN),
        ]

    def __str__(self) -> str:
        return f"{self.dimension} {self.how}"

    def to_core(self) -> MarkedDimension:
        return MarkedDimension(self.dimension, core_value(DimensionStatus, self, brought_in=brought_in_of(self)))
