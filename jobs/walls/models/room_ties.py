from django.db import models
from simple_history.models import HistoricalRecords

from jobs.core.measure import room_tie
from jobs.core.measure.room_tie import MAX_JOINTS, MAX_NAME_LENGTH
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import MAX_MM, between, one_of, over_zero, stated
from quoting.platform.models.columns import length_column
from quoting.platform.models.core_values import core_value

TAPES = ("first_to_start_mm", "second_to_start_mm", "first_to_point_mm", "second_to_point_mm")
SIDES = ("left", "right")


class RoomTie(models.Model):
    """The tapes that tie a wall to two fixed points of the building: to its start and to a second point of it."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="room_ties")
    first = models.CharField(max_length=MAX_NAME_LENGTH)
    second = models.CharField(max_length=MAX_NAME_LENGTH)
    apart_mm = length_column(help_text="Between the two fixed points.")
    first_to_start_mm = length_column()
    second_to_start_mm = length_column()
    first_to_point_mm = length_column()
    second_to_point_mm = length_column()
    joint = models.PositiveSmallIntegerField(null=True, blank=True, help_text="The second point; nothing for the end.")
    side = models.CharField(max_length=5, choices=[(side, side) for side in SIDES])

    history = HistoricalRecords()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["wall"], name="room_tie_once_a_wall"),
            stated("room_tie", "first", "second"),
            over_zero("room_tie", "apart_mm", MAX_MM),
            *(between("room_tie", column, 0, MAX_MM) for column in TAPES),
            between("room_tie", "joint", 1, MAX_JOINTS),
            one_of("room_tie", "side", SIDES),
        ]

    def __str__(self) -> str:
        return f"{self.first} and {self.second}"

    def to_core(self) -> room_tie.RoomTie:
        return core_value(room_tie.RoomTie, self)
