from collections.abc import Mapping

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.core.measure.site_measurements import READING_FIGURES, READING_WAYS, ReadingTaken
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import MAX_MM, MAX_POSITION, between, one_of, over_zero
from quoting.platform.models.columns import length_column
from quoting.platform.models.core_values import core_value

FIGURES: Mapping[str, tuple[str, ...]] = {
    way: tuple(f"{name}_mm" for name in names) for way, names in READING_FIGURES.items()
}
COLUMNS = tuple(sorted({column for columns in FIGURES.values() for column in columns}))
NONE_AT_ALL = ("gap_mm", "first_gap_mm", "last_gap_mm")


def _only_its_own_figures() -> Q:
    condition = Q()
    for way, columns in FIGURES.items():
        condition |= Q(way=way, **{f"{column}__isnull": column not in columns for column in COLUMNS})
    return condition


class ArcReading(models.Model):
    """A repeat reading of one arc of a wall, on the line the arc was measured on."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="readings")
    piece = models.PositiveSmallIntegerField(help_text="Which piece of the wall, from 0.")
    order = models.PositiveSmallIntegerField()
    way = models.CharField(max_length=10, choices=[(way, way.replace("_", " ")) for way in READING_WAYS])
    chord_mm = length_column(null=True, blank=True)
    rise_mm = length_column(null=True, blank=True)
    apart_mm = length_column(null=True, blank=True)
    block_mm = length_column(null=True, blank=True)
    gap_mm = length_column(null=True, blank=True)
    straightedge_mm = length_column(null=True, blank=True)
    first_gap_mm = length_column(null=True, blank=True)
    last_gap_mm = length_column(null=True, blank=True)
    accuracy_mm = length_column(null=True, blank=True, help_text="Nothing where it is that of the wall's tape.")
    span_accuracy_mm = length_column(default=0)
    at_height_mm = length_column(null=True, blank=True, help_text="Above the floor, for that height alone.")

    history = HistoricalRecords()

    class Meta:
        ordering = ["piece", "order", "pk"]
        constraints = [
            between("arc_reading", "piece", 0, MAX_POSITION),
            between("arc_reading", "order", 0, MAX_POSITION),
            one_of("arc_reading", "way", READING_WAYS),
            models.CheckConstraint(condition=_only_its_own_figures(), name="arc_reading_only_its_own_figures"),
            *(over_zero("arc_reading", column, MAX_MM) for column in COLUMNS if column not in NONE_AT_ALL),
            *(between("arc_reading", column, 0, MAX_MM) for column in NONE_AT_ALL),
            between("arc_reading", "accuracy_mm", 0, MAX_MM),
            between("arc_reading", "span_accuracy_mm", 0, MAX_MM),
            between("arc_reading", "at_height_mm", 0, 30_000),
        ]

    def __str__(self) -> str:
        return f"reading {self.order + 1} of piece {self.piece + 1}"

    def to_core(self) -> ReadingTaken:
        figures_mm = tuple(float(getattr(self, column)) for column in FIGURES[self.way])
        return core_value(ReadingTaken, self, figures_mm=figures_mm)
