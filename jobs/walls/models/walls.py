from django.db import models
from django.db.models import prefetch_related_objects
from simple_history.models import HistoricalRecords

from catalog.models import Material
from jobs.core.measure.curve import Face
from jobs.core.measure.site_measurements import SiteMeasurements
from jobs.core.measure.survey import MEASURED_ON, HeightProfile
from jobs.core.measure.wall_spec import ENDS, LEVELS, MAX_END_STUDS, TOPS, FaceBuild, WallEnds, WallSpec
from jobs.jobs.models.jobs import WALL_PARTS, Job
from quoting.platform.models.bounds import MAX_POSITION, between, one_of, stated, yes_or_no
from quoting.platform.models.columns import length_column
from quoting.platform.models.core_values import core_value

LINE_CHOICES = [(line, line.replace("_", " ")) for line in MEASURED_ON]


class Wall(models.Model):
    """One wall of a job: as measured and as it is to be built. Its parts are rows of their own."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="walls")
    key = models.CharField(max_length=40)
    name = models.CharField(max_length=200)
    order = models.PositiveSmallIntegerField(default=0)
    version = models.PositiveIntegerField(default=1, help_text="Rises with every change of the wall.")
    measured_on = models.CharField(max_length=20, choices=LINE_CHOICES)
    track = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    stud = models.ForeignKey(Material, to_field="code", on_delete=models.PROTECT, related_name="+")
    stud_depth_mm = length_column(null=True, blank=True)
    stud_spacing_mm = length_column(null=True, blank=True)
    insulated = models.BooleanField(default=False)
    left_level = models.PositiveSmallIntegerField()
    right_level = models.PositiveSmallIntegerField()
    left_painted = models.BooleanField(default=True)
    right_painted = models.BooleanField(default=True)
    top = models.CharField(max_length=7, default="ceiling", choices=[(name, name) for name in TOPS])
    start_end = models.CharField(max_length=6, default="free", choices=[(name, name) for name in ENDS])
    end_end = models.CharField(max_length=6, default="free", choices=[(name, name) for name in ENDS])
    end_studs = models.PositiveSmallIntegerField(default=1, help_text="Studs set together at a free end.")

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "key"], name="wall_key_once_a_job"),
            stated("wall", "key", "name"),
            between("wall", "order", 0, MAX_POSITION),
            between("wall", "version", 1, 1_000_000_000),
            one_of("wall", "measured_on", MEASURED_ON),
            between("wall", "stud_depth_mm", 1, 1000),
            between("wall", "stud_spacing_mm", 25, 1000),
            one_of("wall", "left_level", LEVELS),
            one_of("wall", "right_level", LEVELS),
            yes_or_no("wall", "insulated"),
            yes_or_no("wall", "left_painted"),
            yes_or_no("wall", "right_painted"),
            one_of("wall", "top", TOPS),
            one_of("wall", "start_end", ENDS),
            one_of("wall", "end_end", ENDS),
            between("wall", "end_studs", 1, MAX_END_STUDS),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def changes_job(self) -> int:
        return self.job_id

    def to_core(self) -> WallSpec:
        prefetch_related_objects([self], *WALL_PARTS)
        kit: dict[str, tuple[str, ...]] = {}
        for entry in self.kit_entries.all():
            kit[entry.role] = (*kit.get(entry.role, ()), entry.material_id)
        return core_value(
            WallSpec,
            self,
            pieces=tuple(piece.to_core() for piece in self.pieces.all()),
            heights=HeightProfile(tuple(height.to_core() for height in self.heights.all())),
            left=self._face("left", self.left_level, self.left_painted),
            right=self._face("right", self.right_level, self.right_painted),
            openings=tuple(opening.to_core() for opening in self.openings.all()),
            trims=tuple(trim.to_core() for trim in self.trims.all()),
            kit=kit,
            overrides=tuple(override.to_core() for override in self.overrides.all()),
            taken=self._taken(),
            ends=WallEnds(self.start_end, self.end_end, self.end_studs),  # type: ignore[arg-type]
            room=next((tie.to_core() for tie in self.room_ties.all()), None),
        )

    def _face(self, face: Face, level: int, painted: bool) -> FaceBuild:
        layers = tuple(layer.to_core() for layer in self.layers.all() if layer.face == face)
        return FaceBuild(layers, level, painted)

    def _taken(self) -> SiteMeasurements:
        survey = next(iter(self.site_surveys.all()), None)
        tape_mm = survey.tape_accuracy_mm if survey else None
        return SiteMeasurements(
            None if tape_mm is None else float(tape_mm),
            tuple(reading.to_core() for reading in self.readings.all()),
            tuple(lean.to_core() for lean in self.leans.all()),
            survey.baseline(tuple(offset.to_core() for offset in self.baseline_offsets.all())) if survey else None,
            tuple(mark.to_core() for mark in self.marks.all()),
        )

    def forget_parts(self) -> None:
        self._prefetched_objects_cache = {}
