from django.db import models
from simple_history.models import HistoricalRecords

from catalog.models import Material
from jobs.core.measure import wall_spec
from jobs.core.measure.curve import FACES
from jobs.core.measure.wall_spec import BEND_WAYS, FORMS, POSITIONS
from jobs.walls.models.layers import FACE_CHOICES
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import MAX_MM, MAX_POSITION, between, one_of, stated, yes_or_no
from quoting.platform.models.columns import length_column
from quoting.platform.models.core_values import core_value

BENDS = [("easy", "Flat against the wall"), ("hard", "On edge")]
GRADES = [("paint", "Paint grade"), ("stain", "Stain grade")]


class TrimRun(models.Model):
    """One run of trim along one face of a wall."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="trims")
    order = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=100)
    face = models.CharField(max_length=5, choices=FACE_CHOICES)
    position = models.CharField(max_length=8, choices=[(name, name) for name in POSITIONS])
    material = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    form = models.CharField(max_length=12, choices=[(name, name.replace("_", "-")) for name in FORMS])
    grade = models.CharField(max_length=5, blank=True, choices=GRADES)
    application = models.TextField(blank=True)
    foot_mm = length_column(null=True, blank=True, help_text="Underside above the floor.")
    returns_mm = length_column(default=0)
    splices_allowed = models.BooleanField(null=True, blank=True)
    template = models.TextField(null=True, blank=True)
    needs_backing = models.BooleanField(default=False)
    need_by = models.DateField(null=True, blank=True)
    bend = models.CharField(max_length=4, blank=True, choices=BENDS)

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            between("trim_run", "order", 0, MAX_POSITION),
            stated("trim_run", "name"),
            one_of("trim_run", "face", FACES),
            one_of("trim_run", "position", POSITIONS),
            one_of("trim_run", "form", FORMS),
            one_of("trim_run", "grade", ["", "paint", "stain"]),
            one_of("trim_run", "bend", ["", *BEND_WAYS]),
            between("trim_run", "foot_mm", 0, MAX_MM),
            between("trim_run", "returns_mm", 0, MAX_MM),
            yes_or_no("trim_run", "splices_allowed"),
            yes_or_no("trim_run", "needs_backing"),
        ]

    def __str__(self) -> str:
        return self.name

    def to_core(self) -> wall_spec.TrimRun:
        return core_value(wall_spec.TrimRun, self, grade=self.grade or None, bend=self.bend or None)
