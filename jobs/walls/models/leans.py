from django.db import models
from simple_history.models import HistoricalRecords

from jobs.core.measure.radius_readings import Lean
from jobs.core.measure.site_measurements import LeanTaken
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import MAX_MM, MAX_POSITION, between, over_zero
from quoting.platform.models.columns import length_column
from quoting.platform.models.core_values import core_value


class ArcLean(models.Model):
    """How far an arc of a wall stands off plumb at one place."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="leans")
    piece = models.PositiveSmallIntegerField(help_text="Which piece of the wall, from 0.")
    order = models.PositiveSmallIntegerField()
    along_mm = length_column(help_text="Along the arc from its start.")
    outwards_mm = length_column(help_text="Away from the centre; negative towards it.")
    height_mm = length_column(help_text="Above the floor, where it was read.")

    history = HistoricalRecords()

    class Meta:
        ordering = ["piece", "order", "pk"]
        constraints = [
            between("arc_lean", "piece", 0, MAX_POSITION),
            between("arc_lean", "order", 0, MAX_POSITION),
            between("arc_lean", "along_mm", 0, MAX_MM),
            between("arc_lean", "outwards_mm", -30_000, 30_000),
            over_zero("arc_lean", "height_mm", 30_000),
        ]

    def __str__(self) -> str:
        return f"lean {self.order + 1} of piece {self.piece + 1}"

    def to_core(self) -> LeanTaken:
        return LeanTaken(self.piece, core_value(Lean, self))
