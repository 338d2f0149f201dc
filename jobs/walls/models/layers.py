from django.db import models
from simple_history.models import HistoricalRecords

from catalog.models import Material
from jobs.core.measure import wall_spec
from jobs.core.measure.curve import FACES
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import MAX_POSITION, between, one_of
from quoting.platform.models.core_values import core_value

FACE_CHOICES = [(face, face) for face in FACES]
DIRECTIONS = [("lengthwise", "Lengthwise"), ("widthwise", "Widthwise")]
MOISTURES = [("dry", "Dry"), ("damp", "Damp")]


class Layer(models.Model):
    """One layer of board on one face, from the framing outwards."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="layers")
    face = models.CharField(max_length=5, choices=FACE_CHOICES)
    order = models.PositiveSmallIntegerField()
    board = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    direction = models.CharField(max_length=10, choices=DIRECTIONS)
    moisture = models.CharField(max_length=4, choices=MOISTURES)

    history = HistoricalRecords()

    class Meta:
        ordering = ["face", "order", "pk"]
        constraints = [
            one_of("layer", "face", FACES),
            between("layer", "order", 0, MAX_POSITION),
            one_of("layer", "direction", [name for name, _ in DIRECTIONS]),
            one_of("layer", "moisture", [name for name, _ in MOISTURES]),
        ]

    def __str__(self) -> str:
        return f"{self.face} layer {self.order + 1}: {self.board_id}"

    def to_core(self) -> wall_spec.Layer:
        return core_value(wall_spec.Layer, self)
