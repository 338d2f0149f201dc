import math

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.core.measure.offsets_fit import Offset
from jobs.core.measure.site_measurements import COARSEST_TAPE_MM, Baseline
from jobs.walls.models.pieces import angle_column
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import MAX_MM, MAX_POSITION, between, over_zero
from quoting.platform.models.columns import length_column
from quoting.platform.models.core_values import core_value

OF_THE_FIT = ("tolerance_mm", "start_along_mm", "start_offset_mm", "heading_deg")


class SiteSurvey(models.Model):
    """What was taken of a wall as a whole: its tape, and where pieces fitted to offsets start."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="site_surveys")
    tape_accuracy_mm = length_column(null=True, blank=True, help_text="Either way; nothing where it is the firm's.")
    tolerance_mm = length_column(null=True, blank=True, help_text="How far the wall may be from any offset.")
    start_along_mm = length_column(null=True, blank=True)
    start_offset_mm = length_column(null=True, blank=True)
    heading_deg = angle_column(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["wall"], name="site_survey_once_a_wall"),
            over_zero("site_survey", "tape_accuracy_mm", int(COARSEST_TAPE_MM)),
            over_zero("site_survey", "tolerance_mm", MAX_MM),
            between("site_survey", "start_along_mm", -MAX_MM, MAX_MM),
            between("site_survey", "start_offset_mm", -MAX_MM, MAX_MM),
            between("site_survey", "heading_deg", -180, 180),
            models.CheckConstraint(
                condition=Q(**{f"{column}__isnull": True for column in OF_THE_FIT})
                | Q(**{f"{column}__isnull": False for column in OF_THE_FIT}),
                name="site_survey_fit_whole_or_none",
            ),
        ]

    def __str__(self) -> str:
        return f"survey of wall {self.wall_id}"

    def baseline(self, offsets: tuple[Offset, ...]) -> Baseline | None:
        if self.tolerance_mm is None:
            return None
        return Baseline(
            offsets,
            float(self.tolerance_mm),
            (float(self.start_along_mm), float(self.start_offset_mm)),  # type: ignore[arg-type]
            math.radians(float(self.heading_deg)),  # type: ignore[arg-type]
        )


class BaselineOffset(models.Model):
    """One offset of a wall from a straight baseline, left of walking positive."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="baseline_offsets")
    order = models.PositiveSmallIntegerField()
    along_mm = length_column(help_text="Along the baseline from its start.")
    offset_mm = length_column()

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            between("baseline_offset", "order", 0, MAX_POSITION),
            between("baseline_offset", "along_mm", -MAX_MM, MAX_MM),
            between("baseline_offset", "offset_mm", -MAX_MM, MAX_MM),
        ]

    def __str__(self) -> str:
        return f"offset {self.order + 1}"

    def to_core(self) -> Offset:
        return core_value(Offset, self)
