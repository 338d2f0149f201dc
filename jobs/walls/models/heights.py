from django.db import models
from simple_history.models import HistoricalRecords

from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import MAX_MM, MAX_POSITION, between, over_zero
from quoting.platform.models.columns import length_column


class HeightStation(models.Model):
    """The clear height at a place along the wall, straight to the next."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="heights")
    order = models.PositiveSmallIntegerField()
    along_mm = length_column(help_text="Along the centreline from the start.")
    height_mm = length_column()

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            between("height_station", "order", 0, MAX_POSITION),
            between("height_station", "along_mm", 0, MAX_MM),
            over_zero("height_station", "height_mm", 30_000),
        ]

    def __str__(self) -> str:
        return f"{self.height_mm} mm at {self.along_mm} mm"

    def to_core(self) -> tuple[float, float]:
        return float(self.along_mm), float(self.height_mm)
