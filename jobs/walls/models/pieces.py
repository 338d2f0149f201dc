import math
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.core.measure.survey import (
    MEASURED_ON,
    ArcGiven,
    ArcLengthChord,
    ArcPiece,
    ChordRise,
    MatchedCurve,
    Piece,
    RadiusAngle,
    RadiusArcLength,
    RadiusChord,
    StraightPiece,
    TemplatePiece,
    ThreePoints,
)
from jobs.walls.models.walls import LINE_CHOICES, Wall
from quoting.platform.models.bounds import MAX_MM, MAX_POSITION, between, one_of, over_zero, yes_or_no
from quoting.platform.models.columns import length_column
from quoting.platform.models.core_values import core_value

FIGURES: Mapping[str, tuple[str, ...]] = {
    "length": ("length_mm",),
    "radius_angle": ("radius_mm", "angle_deg"),
    "radius_arc": ("radius_mm", "arc_mm"),
    "chord_rise": ("chord_mm", "rise_mm"),
    "radius_chord": ("radius_mm", "chord_mm", "major"),
    "arc_chord": ("arc_mm", "chord_mm"),
    "matched": ("chord_mm", "rise_mm", "arc_mm"),
    "points": ("x1_mm", "y1_mm", "x2_mm", "y2_mm", "x3_mm", "y3_mm"),
    "template": ("length_mm", "chord_mm", "turned_deg"),
}
"""How a piece may be given -> the columns that hold it; every other of these columns is empty."""
GIVEN: Mapping[str, type[ArcGiven]] = {
    "radius_angle": RadiusAngle,
    "radius_arc": RadiusArcLength,
    "chord_rise": ChordRise,
    "radius_chord": RadiusChord,
    "arc_chord": ArcLengthChord,
    "matched": MatchedCurve,
    "points": ThreePoints,
}
"""How an arc may be given, in the core."""

SHAPES = [("arc", "Arc"), ("straight", "Straight"), ("template", "To a template")]
COLUMNS = tuple(sorted({column for columns in FIGURES.values() for column in columns}))
POINTS = FIGURES["points"]


def _only_its_own_figures() -> Q:
    condition = Q()
    for given_by, columns in FIGURES.items():
        empty = {f"{column}__isnull": column not in columns for column in COLUMNS}
        condition |= Q(given_by=given_by, **empty)
    return condition


def angle_column(**options: Any) -> models.DecimalField:
    return models.DecimalField(max_digits=12, decimal_places=9, **options)


class WallPiece(models.Model):
    """One piece of a wall in plan, straight or arc, in the figures it was given in."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="pieces")
    order = models.PositiveSmallIntegerField()
    shape = models.CharField(max_length=8, choices=SHAPES)
    given_by = models.CharField(max_length=12, choices=[(name, name.replace("_", ", ")) for name in FIGURES])
    turn = models.CharField(max_length=5, blank=True, choices=[("left", "Left"), ("right", "Right")])
    measured_on = models.CharField(max_length=20, blank=True, choices=LINE_CHOICES)
    length_mm = length_column(null=True, blank=True)
    radius_mm = length_column(null=True, blank=True)
    angle_deg = angle_column(null=True, blank=True)
    arc_mm = length_column(null=True, blank=True)
    chord_mm = length_column(null=True, blank=True)
    rise_mm = length_column(null=True, blank=True)
    major = models.BooleanField(null=True, blank=True, help_text="The arc of more than half a circle.")
    x1_mm = length_column(null=True, blank=True)
    y1_mm = length_column(null=True, blank=True)
    x2_mm = length_column(null=True, blank=True)
    y2_mm = length_column(null=True, blank=True)
    x3_mm = length_column(null=True, blank=True)
    y3_mm = length_column(null=True, blank=True)
    turned_deg = angle_column(null=True, blank=True, help_text="From the start to the end, left positive.")
    template = models.TextField(null=True, blank=True, help_text="Name of the held template it is built to.")
    kink_deg = angle_column(default=Decimal(0))

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            between("wall_piece", "order", 0, MAX_POSITION),
            one_of("wall_piece", "given_by", FIGURES),
            one_of("wall_piece", "turn", ["", "left", "right"]),
            one_of("wall_piece", "measured_on", ["", *MEASURED_ON]),
            models.CheckConstraint(
                condition=Q(shape="straight", given_by="length", turn="", measured_on="")
                | Q(shape="template", given_by="template", turn="")
                | Q(shape="arc") & ~Q(given_by__in=["length", "template"]),
                name="wall_piece_shape_and_figures_agree",
            ),
            models.CheckConstraint(condition=_only_its_own_figures(), name="wall_piece_only_its_own_figures"),
            *(
                over_zero("wall_piece", column, MAX_MM)
                for column in ("length_mm", "radius_mm", "arc_mm", "chord_mm", "rise_mm")
            ),
            *(between("wall_piece", column, -MAX_MM, MAX_MM) for column in POINTS),
            over_zero("wall_piece", "angle_deg", 360),
            between("wall_piece", "kink_deg", -180, 180),
            between("wall_piece", "turned_deg", -360, 360),
            yes_or_no("wall_piece", "major"),
        ]

    def __str__(self) -> str:
        return f"piece {self.order + 1} of {self.wall_id}"

    def to_core(self) -> Piece:
        kink_rad = math.radians(float(self.kink_deg))
        if self.shape == "template":
            return self._to_template(kink_rad)
        if self.shape == "straight":
            return core_value(StraightPiece, self, kink_rad=kink_rad)
        return ArcPiece(
            self._given(),
            self.turn or None,  # type: ignore[arg-type]
            self.measured_on or None,  # type: ignore[arg-type]
            kink_rad,
        )

    def _to_template(self, kink_rad: float) -> TemplatePiece:
        turned_rad = math.radians(float(self.turned_deg))  # type: ignore[arg-type]
        line = self.measured_on or None
        return core_value(TemplatePiece, self, turned_rad=turned_rad, measured_on=line, kink_rad=kink_rad)

    def _given(self) -> ArcGiven:
        more: dict[str, Any] = {}
        if self.given_by == "radius_angle":
            more["sweep_rad"] = math.radians(float(self.angle_deg))  # type: ignore[arg-type]
        if self.given_by == "points":
            figures = [float(getattr(self, column)) for column in POINTS]
            more["points"] = tuple(zip(figures[::2], figures[1::2], strict=True))
        return core_value(GIVEN[self.given_by], self, **more)
