from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.models import Material
from jobs.core.measure import survey
from jobs.core.measure.survey import CASING_FACES, MEASURED_ON
from jobs.walls.models.walls import LINE_CHOICES, Wall
from quoting.platform.models.bounds import MAX_MM, MAX_POSITION, between, one_of, over_zero, stated
from quoting.platform.models.columns import length_column
from quoting.platform.models.core_values import core_value

FRAMES = [("flat", "Flat frame"), ("radial", "Cut radially")]


class Opening(models.Model):
    """A rough opening in a wall."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="openings")
    order = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=100)
    centre_at_mm = length_column()
    width_mm = length_column()
    height_mm = length_column()
    sill_mm = length_column(default=0)
    frame = models.CharField(max_length=6, choices=FRAMES)
    measured_on = models.CharField(max_length=20, blank=True, choices=LINE_CHOICES)
    arch_rise_mm = length_column(null=True, blank=True, help_text="Of the crown over the spring line.")
    casing_legs = models.ForeignKey(
        Material, null=True, blank=True, to_field="code", on_delete=models.PROTECT, related_name="+"
    )
    casing_head = models.ForeignKey(
        Material, null=True, blank=True, to_field="code", on_delete=models.PROTECT, related_name="+"
    )
    casing_reveal_mm = length_column(default=0)
    casing_faces = models.CharField(max_length=5, default="both", choices=[(face, face) for face in CASING_FACES])

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            between("opening", "order", 0, MAX_POSITION),
            stated("opening", "name"),
            over_zero("opening", "centre_at_mm", MAX_MM),
            over_zero("opening", "width_mm", MAX_MM),
            over_zero("opening", "height_mm", MAX_MM),
            between("opening", "sill_mm", 0, MAX_MM),
            one_of("opening", "frame", [name for name, _ in FRAMES]),
            one_of("opening", "measured_on", ["", *MEASURED_ON]),
            over_zero("opening", "arch_rise_mm", MAX_MM),
            between("opening", "casing_reveal_mm", 0, 1000),
            one_of("opening", "casing_faces", CASING_FACES),
            models.CheckConstraint(
                condition=Q(casing_head=None) | Q(casing_legs__isnull=False), name="opening_casing_has_legs"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def to_core(self) -> survey.Opening:
        return core_value(survey.Opening, self, measured_on=self.measured_on or None, casing=self._casing())

    def _casing(self) -> survey.OpeningCasing | None:
        if self.casing_legs_id is None:
            return None
        return survey.OpeningCasing(
            self.casing_legs_id,
            self.casing_head_id,
            float(self.casing_reveal_mm),
            self.casing_faces,  # type: ignore[arg-type]
        )
