"""How a wall is to be built: members, layers of each face, finish levels and trim. The estimator's choices."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, get_args

from catalog.core.ground.units import format_both
from catalog.core.materials.profiles import FORMS as FORMS
from catalog.core.materials.profiles import GRADES, Grade
from catalog.core.materials.profiles import POSITIONS as POSITIONS
from catalog.core.materials.profiles import Position as Position
from catalog.core.materials.profiles import TrimForm as TrimForm
from jobs.core.measure.curve import FACES, Face
from jobs.core.measure.findings import Override
from jobs.core.measure.room_tie import RoomTie
from jobs.core.measure.site_measurements import SiteMeasurements
from jobs.core.measure.survey import HeightProfile, MeasuredOn, Opening, Piece, SurveyError

Direction = Literal["lengthwise", "widthwise"]
Moisture = Literal["dry", "damp"]
ON_TOP: Position = "top"
"""Laid flat on the free top of a half wall, over its whole thickness."""
AT_THE_FLOOR: frozenset[Position] = frozenset({"base", "shoe"})
AT_THE_CEILING: frozenset[Position] = frozenset({"crown", "cap", "reveal"})
BENT_HARD: frozenset[Position] = frozenset({"crown", "cap", "top"})
BendWay = Literal["easy", "hard"]
BEND_WAYS: tuple[BendWay, ...] = ("easy", "hard")
LEVELS = (0, 1, 2, 3, 4, 5)
Top = Literal["ceiling", "deck", "free"]
TOPS: tuple[Top, ...] = ("ceiling", "deck", "free")
"""What the top meets: a ceiling of board, taped; a deck, grid or other ceiling, not taped; nothing."""
End = Literal["free", "meets", "column"]
ENDS: tuple[End, ...] = ("free", "meets", "column")
"""What an end meets: nothing; another wall of board, taped; a column, masonry or a frame, not taped."""
MAX_END_STUDS = 6


def _one_of(entry: str, value: str, known: tuple[str, ...], what: str) -> None:
    if value not in known:
        raise SurveyError(entry, f"{what} must be one of {', '.join(known)}; {value!r} was given")


@dataclass(frozen=True)
class Layer:
    """One layer of board. board: material code. direction: how the sheet is bent; lengthwise lies on its side."""

    board: str
    direction: Direction = "lengthwise"
    moisture: Moisture = "dry"

    def __post_init__(self) -> None:
        _one_of("direction", self.direction, get_args(Direction), f"the direction {self.board} is bent in")
        _one_of("moisture", self.moisture, get_args(Moisture), f"the moisture of {self.board}")


@dataclass(frozen=True)
class FaceBuild:
    """One face of the wall: layers from the framing outwards, finish level 0 to 5 (GA-214), painted or not."""

    layers: tuple[Layer, ...]
    level: int = 4
    painted: bool = True

    def __post_init__(self) -> None:
        if self.level not in LEVELS:
            raise SurveyError("level", f"a finish level is 0 to 5 (GA-214), not {self.level}")


@dataclass(frozen=True)
class TrimRun:
    """One run of trim along one face, over the whole length of the wall.

    name: in words. material: code of the profile. position: where it runs; `chair` needs foot_mm.
    foot_mm: underside above the floor (>= 0), None where the position says it. form: how the profile is to be
    had. grade: "paint" or "stain". application: where and how it is used, for the maker. returns_mm: length
    added for returns into openings and round ends (>= 0). splices_allowed: None when nobody has said.
    template: name of the held template, for form "template". needs_backing: backing is to be let in behind it.
    need_by: day it must be on site, None to take it from the activities. bend: "easy" flat against the wall, "hard"
    on edge, None as the position has it.
    """

    name: str
    face: Face
    position: Position
    material: str
    form: TrimForm = "stock"
    grade: Grade | None = None
    application: str = ""
    foot_mm: float | None = None
    returns_mm: float = 0.0
    splices_allowed: bool | None = None
    template: str | None = None
    needs_backing: bool = False
    need_by: date | None = None
    bend: BendWay | None = None

    def __post_init__(self) -> None:
        _one_of("face", self.face, FACES, f"the face of {self.name}")
        _one_of("position", self.position, POSITIONS, f"the position of {self.name}")
        _one_of("form", self.form, FORMS, f"the form of {self.name}")
        if self.grade is not None:
            _one_of("grade", self.grade, GRADES, f"the grade of {self.name}")
        if self.bend is not None:
            _one_of("bend", self.bend, BEND_WAYS, f"the bend of {self.name}")
        if not (math.isfinite(self.returns_mm) and self.returns_mm >= 0):
            raise SurveyError("returns", f"the returns of {self.name} must be zero or more")
        if self.position == "chair" and self.foot_mm is None:
            raise SurveyError("foot", f"{self.name}: say how high above the floor it runs")
        if self.foot_mm is not None and not (math.isfinite(self.foot_mm) and self.foot_mm >= 0):
            raise SurveyError("foot", f"{self.name}: the height above the floor must be zero or more")

    @property
    def way(self) -> BendWay:
        """How the profile is bent: as is said of the run, else on edge for a crown or a cap, flat for all others.

        >>> TrimRun("Cap", "left", "cap", "CAP").way
        'hard'
        """
        return self.bend or ("hard" if self.position in BENT_HARD else "easy")


@dataclass(frozen=True)
class WallEnds:
    """What each end of a wall meets, one of `ENDS`. studs: set together at each free end, 1 to 6."""

    start: End = "free"
    end: End = "free"
    studs: int = 1

    def __post_init__(self) -> None:
        _one_of("ends.start", self.start, ENDS, "the start of the wall")
        _one_of("ends.end", self.end, ENDS, "the end of the wall")
        if not 1 <= self.studs <= MAX_END_STUDS:
            raise SurveyError("ends.studs", f"1 to {MAX_END_STUDS} studs stand at a free end, not {self.studs}")


@dataclass(frozen=True)
class WallSpec:
    """One wall: as measured and as it is to be built.

    key: stable within the job. stud_depth_mm: None to take it from the stud. stud_spacing_mm: the greatest
    spacing wanted (> 0), None for the firm's table. kit: roles (catalog.core.materials.specs.ROLES) whose
    material differs from the firm's kit; for `board_screw` the codes to choose the screw from. top: "free" for a
    half wall, whose heights are to the underside of its cap, else what it meets. ends: what they meet; a closed wall
    has none. room: the tapes that tie it to the building, None while there are none.
    """

    key: str
    name: str
    pieces: tuple[Piece, ...]
    heights: HeightProfile
    measured_on: MeasuredOn
    track: str
    stud: str
    left: FaceBuild
    right: FaceBuild
    openings: tuple[Opening, ...] = ()
    trims: tuple[TrimRun, ...] = ()
    stud_depth_mm: float | None = None
    stud_spacing_mm: float | None = None
    insulated: bool = False
    kit: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    overrides: tuple[Override, ...] = ()
    taken: SiteMeasurements = field(default_factory=SiteMeasurements)
    top: Top = "ceiling"
    ends: WallEnds = WallEnds()
    room: RoomTie | None = None

    def __post_init__(self) -> None:
        _one_of("top", self.top, TOPS, "the top of a wall")
        if self.stud_spacing_mm is not None and not (
            math.isfinite(self.stud_spacing_mm) and 25 <= self.stud_spacing_mm <= 1000
        ):
            raise SurveyError(
                "stud_spacing",
                f"stud spacing must lie from 25 mm to 1000 mm (1 to 39 in), not {format_both(self.stud_spacing_mm)}",
            )

    def face(self, face: Face) -> FaceBuild:
        """The build of one face.

        >>> from jobs.core.measure.survey import StraightPiece
        >>> plain = FaceBuild((Layer("GB"),))
        >>> spec = WallSpec("w", "Wall", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "centre",
        ...     "T", "S", plain, FaceBuild((), level=0))
        >>> len(spec.face("left").layers)
        1
        """
        return self.left if face == "left" else self.right

    @property
    def is_half_wall(self) -> bool:
        """Its top is free, and may carry a cap."""
        return self.top == "free"
