"""How a wall is to be built: members, layers of each face, finish levels and trim. The estimator's choices."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Annotated, Any, Literal, get_args

from catalog.core.ground.declared import As, Choice, Declared, Items, Length, Refs, Schema, Text, Whole, entries_of
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.units import format_both
from catalog.core.materials.profiles import FORMS as FORMS
from catalog.core.materials.profiles import POSITIONS as POSITIONS
from catalog.core.materials.profiles import Grade
from catalog.core.materials.profiles import Position as Position
from catalog.core.materials.profiles import TrimForm as TrimForm
from catalog.core.materials.specs import KIT_WORDS, KitOf
from jobs.core.measure.curve import Face
from jobs.core.measure.findings import Override
from jobs.core.measure.room_tie import RoomTie
from jobs.core.measure.site_measurements import PIECE, SiteMeasurements
from jobs.core.measure.survey import HeightProfile, HeightsOf, MeasuredOn, Opening, Piece, SurveyError

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


def _check_words(value: Any, of: str) -> None:
    """Each of its choices is one of those declared."""
    declared: Any = type(value)
    for entry in entries_of(declared):
        word = getattr(value, entry.field)
        if isinstance(entry.kind, Choice) and word is not None:
            _one_of(entry.name, word, entry.kind.among, f"the {entry.name} of {of}")


@dataclass(frozen=True)
class Layer:
    """One layer of board."""

    board: Annotated[str, Text(60), "Code of the board."]
    direction: Annotated[
        Direction, "How the sheet is bent: lengthwise lays it on its side, widthwise stands it.", As(label="Bent")
    ] = "lengthwise"
    moisture: Annotated[Moisture, "Bent dry, or damp.", As(label="Hung")] = "dry"

    def __post_init__(self) -> None:
        _one_of("direction", self.direction, get_args(Direction), f"the direction {self.board} is bent in")
        _one_of("moisture", self.moisture, get_args(Moisture), f"the moisture of {self.board}")


@dataclass(frozen=True)
class FaceBuild:
    """One face of the wall."""

    document_name = "face"

    layers: Annotated[
        tuple[Layer, ...],
        Items(Declared(Layer), 8),
        "Layers from the framing outwards; none leaves the face open.",
        As(absent=()),
    ]
    level: Annotated[int, Choice(LEVELS), "Finish level 0 to 5 (GA-214).", As(label="Finish level", needed=True)] = 4
    painted: Annotated[bool, "Primed and painted."] = True

    def __post_init__(self) -> None:
        if self.level not in LEVELS:
            raise SurveyError("level", f"a finish level is 0 to 5 (GA-214), not {self.level}")


@dataclass(frozen=True)
class TrimRun:
    """One run of trim along one face, over the whole length of the wall, less the openings in its way.

    name: in words. material: code of the profile. position: where it runs; `chair` needs foot_mm.
    foot_mm: underside above the floor (>= 0), None where the position says it. form: how the profile is to be
    had. grade: "paint" or "stain". application: where and how it is used, for the maker. returns_mm: length
    added for returns into openings and round ends (>= 0). splices_allowed: None when nobody has said.
    template: name of the held template, for form "template". needs_backing: backing is to be let in behind it.
    need_by: day it must be on site, None to take it from the activities. bend: "easy" flat against the wall, "hard"
    on edge, None as the position has it.
    """

    document_name = "trim"

    name: Annotated[str, Text(100), "What the papers call it."]
    face: Annotated[Face, "The face it runs on, seen while walking."]
    position: Annotated[Position, "Where it runs.", As(label="Where it runs")]
    material: Annotated[str, Text(60), "Code of the profile.", As(label="Profile")]
    form: Annotated[TrimForm, "How the profile comes.", As(label="Supplied as")] = "stock"
    grade: Annotated[Grade | None, "Paint or stain grade."] = None
    application: Annotated[str, "Where and how it is used, for the maker.", As(label="Where and how it is used")] = ""
    foot_mm: Annotated[
        float | None,
        Length(),
        "Underside above the floor; needed for a chair rail.",
        As(label="Underside above the floor", hint="needed for a chair rail"),
    ] = None
    returns_mm: Annotated[
        float, Length(), "Length added for returns into openings and round ends.", As(label="Returns, in all")
    ] = 0.0
    splices_allowed: Annotated[bool | None, "null while not stated.", As(label="Splices")] = None
    template: Annotated[
        str | None,
        "Name of the held template, for the form template.",
        As(label="Its template", hint="empty: the one entered for it"),
    ] = None
    needs_backing: Annotated[bool, "Backing is let in behind it.", As(label="Backing behind it")] = False
    need_by: Annotated[
        date | None,
        "The day it must be on site; null takes it from the activities.",
        As(label="On site by", hint="empty: from the activities"),
    ] = None
    bend: Annotated[
        BendWay | None,
        "How it is bent: easy = flat against the wall, hard = on edge; null as its position has it, crown and cap on "
        "edge.",
        As(label="Bent"),
    ] = None

    def __post_init__(self) -> None:
        _check_words(self, self.name)
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

    document_name = "ends"
    document_description = "How the wall ends. A closed wall has no ends."

    start: Annotated[
        End,
        "free: it meets nothing. meets: another wall of board, taped. column: a column, masonry or a frame, not taped.",
        As(label="Start of the wall"),
    ] = "free"
    end: Annotated[End, "As start.", As(label="End of the wall")] = "free"
    studs: Annotated[
        int,
        Whole(1, MAX_END_STUDS),
        "Studs set together at each free end.",
        As(label="Studs at a free end", hint="set together, 1 to 6"),
    ] = 1

    def __post_init__(self) -> None:
        _check_words(self, "the wall")
        if not 1 <= self.studs <= MAX_END_STUDS:
            raise SurveyError("studs", f"1 to {MAX_END_STUDS} studs stand at a free end, not {self.studs}")


class KeyText(Text):
    """A short stable key."""

    def read(self, reader: Reader, name: str) -> str:
        key = super().read(reader, name)
        if not re.fullmatch(self.pattern, key):
            message = "must be of small letters, digits and single hyphens, such as front-screen"
            raise reader.error(name, f'"{key}" {message}')
        return key


@dataclass(frozen=True)
class WallSpec:
    """One wall: as measured and as it is to be built.

    key: stable within the job. stud_depth_mm: None to take it from the stud. stud_spacing_mm: the greatest
    spacing wanted (> 0), None for the firm's table. kit: roles (catalog.core.materials.specs.ROLES) whose
    material differs from the firm's kit; for `board_screw` the codes to choose the screw from. top: "free" for a
    half wall, whose heights are to the underside of its cap, else what it meets. ends: what they meet; a closed wall
    has none. room: the tapes that tie it to the building, None while there are none.
    """

    document_name = "wall"
    document_description = "One wall, as measured and as it is to be built."

    key: Annotated[
        str,
        KeyText(40, "^[a-z0-9]+(-[a-z0-9]+)*$"),
        "Stable within the job: small letters, digits and single hyphens.",
    ]
    name: Annotated[str, Text(200), "Its name on papers."]
    measured_on: Annotated[
        MeasuredOn,
        "The line the tape followed. Concave and convex go with each arc's turn; left and right with the walk.",
    ]
    pieces: Annotated[
        tuple[Piece, ...],
        Items(PIECE, 200),
        "Straight and arc pieces, from the start of the wall to its end. They may be left out where `offsets` are "
        "given to fit them to.",
        As(absent=()),
    ]
    heights: Annotated[
        HeightProfile,
        HeightsOf(),
        "Clear height: one length for a level ceiling, or heights along the centreline in walking order, straight "
        "in between. Two at one place are a step.",
        As(name="height"),
    ]
    track: Annotated[str, Text(60), "Code of the track."]
    stud: Annotated[str, Text(60), "Code of the stud."]
    stud_depth_mm: Annotated[
        float | None,
        Length(),
        "Depth of the stud; null takes it from the stud's own figures.",
        As(hint="empty: as the stud states"),
    ] = field(default=None, kw_only=True)
    stud_spacing_mm: Annotated[
        float | None,
        Length(),
        "Greatest stud spacing allowed along the convex framing face, 25 to 1000 mm; null takes the firm's table.",
        As(label="Greatest stud spacing", hint="empty: by the firm's table"),
    ] = field(default=None, kw_only=True)
    left: Annotated[FaceBuild, "The face on the left while walking."]
    right: Annotated[FaceBuild, "The face on the right while walking."]
    openings: Annotated[tuple[Opening, ...], Items(Declared(Opening), 200), "Doors and windows."] = ()
    trims: Annotated[tuple[TrimRun, ...], Items(Declared(TrimRun), 200), "Runs of trim."] = ()
    insulated: Annotated[bool, "The cavity is filled."] = False
    top: Annotated[
        Top,
        "ceiling: it meets one of board, taped. deck: a deck or another ceiling, not taped. free: a half wall, its "
        "heights to the underside of its cap.",
        As(label="Top of wall"),
    ] = "ceiling"
    ends: Annotated[WallEnds, "What the ends meet; null where both are free."] = WallEnds()
    room: Annotated[RoomTie | None, "The tapes that tie the wall to the building; null where there are none."] = None
    kit: Annotated[Mapping[str, tuple[str, ...]], KitOf(), KIT_WORDS] = field(default_factory=dict)
    overrides: Annotated[tuple[Override, ...], "Decisions about this wall."] = ()
    taken: Annotated[SiteMeasurements, As(spread=True)] = field(default_factory=SiteMeasurements)

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        """There are pieces, or offsets to fit them to."""
        pieces = {"required": ["pieces"], "properties": {"pieces": {"type": "array", "minItems": 1}}}
        offsets = {"required": ["offsets"], "properties": {"offsets": {"type": "object"}}}
        return schema | {"anyOf": [pieces, offsets]}

    def __post_init__(self) -> None:
        _one_of("top", self.top, TOPS, "the top of a wall")
        if self.stud_spacing_mm is not None and not (
            math.isfinite(self.stud_spacing_mm) and 25 <= self.stud_spacing_mm <= 1000
        ):
            raise SurveyError(
                "stud_spacing",
                f"stud spacing must be from 25 mm to 1000 mm (1 to 39 in), not {format_both(self.stud_spacing_mm)}",
            )

    def face(self, face: Face) -> FaceBuild:
        """The build of one face.

        >>> from jobs.core.measure.survey import StraightPiece
        >>> plain = FaceBuild((Layer("GB"),))
        >>> spec = WallSpec("w", "Wall", "centre", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)),
        ...     "T", "S", plain, FaceBuild((), level=0))
        >>> len(spec.face("left").layers)
        1
        """
        return self.left if face == "left" else self.right

    @property
    def is_half_wall(self) -> bool:
        """Its top is free, and may carry a cap."""
        return self.top == "free"
