from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.core.measure.curve import FACES
from jobs.jobs.models.jobs import Job
from jobs.walls.models.walls import Wall
from quoting.platform.models.bounds import one_of, yes_or_no
from quoting.platform.models.pictures import KeptPicture

PHOTO_KINDS = [("photo", "Photo"), ("sketch", "Sketch")]
PHOTO_FACES = [(face, f"{face.capitalize()} face") for face in FACES]


class WallPhoto(KeptPicture):
    """A photo or sketch of a wall. One that is taken down keeps its row and its file: it may stand in a paper."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="photos")
    wall = models.ForeignKey(Wall, null=True, on_delete=models.SET_NULL, related_name="photos")
    kind = models.CharField(max_length=6, choices=PHOTO_KINDS)
    caption = models.CharField(max_length=200)
    face = models.CharField(max_length=5, blank=True, choices=PHOTO_FACES, help_text="Which of the two is to be seen.")
    dimension = models.CharField(max_length=60, blank=True, help_text="Its place in the wall's document.")
    in_quote = models.BooleanField(default=False, help_text="Shown to the client in the quote.")
    taken_down_by = models.CharField(max_length=200, blank=True)
    taken_down_at = models.DateTimeField(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        verbose_name = "photo of a wall"
        verbose_name_plural = "photos of walls"
        constraints = [
            one_of("wall_photo", "kind", [name for name, _ in PHOTO_KINDS]),
            one_of("wall_photo", "face", ["", *FACES]),
            *KeptPicture.checks("wall_photo", "caption"),
            yes_or_no("wall_photo", "in_quote"),
            models.CheckConstraint(
                condition=Q(taken_down_at=None, taken_down_by="") | (~Q(taken_down_at=None) & ~Q(taken_down_by="")),
                name="wall_photo_taken_down_by_somebody",
            ),
            models.UniqueConstraint(
                fields=["wall", "sha256"], condition=Q(taken_down_at=None), name="wall_photo_once_a_wall"
            ),
        ]

    def __str__(self) -> str:
        return self.caption
