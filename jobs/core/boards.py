"""Where every board of one face lies: courses, joints on studs, the sheets to buy and what is left of them.

A face carries one or more layers. Each layer is developed (rolled out flat) along the longer of its two
surfaces, so a piece cut to its developed length is never short. A layer is hung in courses; in a course the
boards butt on studs. Heights are above the floor; distances along the centreline are `along_mm`, distances
along the layer's own developed line are `from_mm`, `to_mm` and `at_mm`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from catalog.core.standards import Standards
from jobs.core.build import Direction
from jobs.core.curve import Curve, Face
from jobs.core.findings import Finding

CoursesFrom = Literal["floor", "ceiling"]


class BoardError(ValueError):
    """A figure from which no boards can be planned. `field` names the entry; the message says what would be right."""

    def __init__(self, field: str, reason: str) -> None:
        super().__init__(reason)
        self.field = field
        self.reason = reason


def _positive(field: str, value: float, what: str) -> None:
    if not (math.isfinite(value) and value > 0):
        raise BoardError(field, f"{what} must be more than zero; {value:g} was given")


@dataclass(frozen=True)
class Sheet:
    """A sheet that can be bought: length_mm >= width_mm > 0; price of one in money, None when nobody stated it."""

    code: str
    length_mm: float
    width_mm: float
    price: Decimal | None = None

    def __post_init__(self) -> None:
        _positive("width", self.width_mm, f"the width of sheet {self.code}")
        _positive("length", self.length_mm, f"the length of sheet {self.code}")
        if self.length_mm < self.width_mm:
            raise BoardError(
                "length",
                f"sheet {self.code}: the length ({self.length_mm:g} mm) must not be less than "
                f"the width ({self.width_mm:g} mm)",
            )
        if self.price is not None and not (self.price.is_finite() and self.price >= 0):
            raise BoardError("price", f"sheet {self.code}: the price must be zero or more, not {self.price}")


@dataclass(frozen=True)
class BoardLayer:
    """One layer to be hung, counted from the framing outwards.

    board: material code. thickness_mm: > 0. direction: "lengthwise" lays the sheet on its side, its length along
    the curve; "widthwise" stands it, its width along the curve. sheets: what can be bought, at least one.
    """

    board: str
    thickness_mm: float
    direction: Direction
    sheets: tuple[Sheet, ...]

    def __post_init__(self) -> None:
        _positive("thickness", self.thickness_mm, f"the thickness of {self.board}")
        if self.direction not in ("lengthwise", "widthwise"):
            raise BoardError(
                "direction", f"{self.board} is bent lengthwise or widthwise, not {self.direction!r}"
            )
        if not self.sheets:
            raise BoardError("sheets", f"{self.board} needs at least one sheet size to buy")
        codes = [sheet.code for sheet in self.sheets]
        if len(set(codes)) != len(codes):
            raise BoardError(
                "sheets", f"the sheets of {self.board} need different codes; these are {', '.join(codes)}"
            )


@dataclass(frozen=True)
class Notch:
    """The part of an opening cut out of one piece: developed from and to, foot and head above the floor, all mm."""

    opening: str
    from_mm: float
    to_mm: float
    foot_mm: float
    head_mm: float


@dataclass(frozen=True)
class SheetPiece:
    """One board as it hangs.

    number: from 1 within the face. layer, course: from 1, outwards and upwards. from_mm, to_mm: on the layer's
    developed line; from_along_mm, to_along_mm: on the centreline; on a closed column a piece that passes the
    start ends beyond the length. foot_mm, head_mm: above the floor; under a raked ceiling the head is the
    greatest height in the span and the board is cut to the rake. sheet_number: the bought sheet it is cut from;
    across_mm, up_mm: its lower left corner there. sheet_across_mm, sheet_up_mm: that sheet as it hangs.
    ripped: it is less high than its sheet. shortened: less wide. notches: cut out for openings.
    """

    number: int
    layer: int
    course: int
    from_mm: float
    to_mm: float
    from_along_mm: float
    to_along_mm: float
    foot_mm: float
    head_mm: float
    pack_code: str
    sheet_number: int
    across_mm: float
    up_mm: float
    sheet_across_mm: float
    sheet_up_mm: float
    ripped: bool
    shortened: bool
    notches: tuple[Notch, ...] = ()

    @property
    def width_mm(self) -> float:
        return self.to_mm - self.from_mm

    @property
    def height_mm(self) -> float:
        return self.head_mm - self.foot_mm


@dataclass(frozen=True)
class ButtJoint:
    """An upright joint of two boards of one course, on a stud. length_mm: of the joint itself, openings left out."""

    layer: int
    course: int
    along_mm: float
    at_mm: float
    foot_mm: float
    head_mm: float
    length_mm: float


@dataclass(frozen=True)
class HorizontalJoint:
    """An unbroken stretch of the joint between two courses, at height_mm above the floor."""

    layer: int
    height_mm: float
    from_mm: float
    to_mm: float
    from_along_mm: float
    to_along_mm: float

    @property
    def length_mm(self) -> float:
        return self.to_mm - self.from_mm


@dataclass(frozen=True)
class Course:
    """One course: number from 1 upwards, foot and head above the floor in mm."""

    number: int
    foot_mm: float
    head_mm: float


@dataclass(frozen=True)
class Offcut:
    """What is left of a bought sheet: its lower left corner there, its extent across and up as the sheet hangs, mm."""

    across_mm: float
    up_mm: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True)
class BoughtSheet:
    """One sheet to buy and how it is cut.

    number: from 1 within the plan. board, pack_code: what it is. direction: how it hangs. across_mm, up_mm: its
    extent as it hangs. pieces: numbers of the pieces cut from it. offcuts: what is left, usable or not.
    """

    number: int
    board: str
    direction: Direction
    pack_code: str
    across_mm: float
    up_mm: float
    price: Decimal | None
    pieces: tuple[int, ...]
    offcuts: tuple[Offcut, ...]


@dataclass(frozen=True)
class SheetCount:
    """How many sheets of one pack. cost: count x price, None when the price is not stated."""

    board: str
    pack_code: str
    count: int
    price: Decimal | None

    @property
    def cost(self) -> Decimal | None:
        return None if self.price is None else self.price * self.count


@dataclass(frozen=True)
class LayerPlan:
    """One layer hung.

    line_radii_mm: per piece of the curve, the radius of the surface it is developed on (the longer of the
    layer's two), 0 on a straight. developed_mm: length of that line. joints: butt joints. corner_mm: upright
    length at kinks of the wall, where boards end but no butt joint stands. net_area_mm2: on the developed line,
    openings out. purchase: sheets first cut for this layer (a later layer may use up their off-cuts).
    """

    number: int
    board: str
    direction: Direction
    thickness_mm: float
    line_radii_mm: tuple[float, ...]
    developed_mm: float
    courses: tuple[Course, ...]
    pieces: tuple[SheetPiece, ...]
    joints: tuple[ButtJoint, ...]
    horizontal_joints: tuple[HorizontalJoint, ...]
    corner_mm: float
    net_area_mm2: float
    purchase: tuple[SheetCount, ...]

    @property
    def joint_length_mm(self) -> float:
        return sum(j.length_mm for j in self.joints) + sum(h.length_mm for h in self.horizontal_joints)


@dataclass(frozen=True)
class FacePlan:
    """One face hung: its layers from the framing outwards, the sheets to buy, and what must be known about it.

    bound_cost: no plan of these layers can cost less (net area at the best price per area), None while a price
    is missing. findings: joints that cannot keep their distance, missing standards and prices. key: of the wall.
    """

    key: str
    face: Face
    layers: tuple[LayerPlan, ...]
    sheets: tuple[BoughtSheet, ...]
    purchase: tuple[SheetCount, ...]
    bound_cost: Decimal | None
    findings: tuple[Finding, ...]

    @property
    def cost(self) -> Decimal | None:
        """Money for all sheets, None while a price is missing."""
        return _cost_of(self.purchase)

    @property
    def tape_joint_mm(self) -> float:
        """Joints to tape: all joints of the outermost layer, in mm; corners are counted apart."""
        return self.layers[-1].joint_length_mm if self.layers else 0.0

    @property
    def joints_along_mm(self) -> tuple[float, ...]:
        """Places along the centreline of every sheet-end joint of all layers, each place once, in walking order."""
        return tuple(sorted({round(j.along_mm, 6) for layer in self.layers for j in layer.joints}))


@dataclass(frozen=True)
class JobSheets:
    """Sheets of several faces bought together: counts per pack, and the counts face by face beside them."""

    purchase: tuple[SheetCount, ...]
    apart: tuple[SheetCount, ...]
    sheets: tuple[BoughtSheet, ...]
    pieces: tuple[tuple[str, Face, int], ...]
    """Piece n (from 1) of `sheets` is piece number [2] of the plan with key [0], face [1]."""


def _cost_of(purchase: Iterable[SheetCount]) -> Decimal | None:
    total = Decimal(0)
    for line in purchase:
        if line.cost is None:
            return None
        total += line.cost
    return total


def plan_face(
    curve: Curve,
    face: Face,
    layers: Sequence[BoardLayer],
    stud_along_mm: Sequence[float],
    standards: Standards,
    *,
    key: str = "wall",
    courses_from: CoursesFrom = "floor",
    seed: int = 0,
) -> FacePlan:
    """Plan the boards of one face."""
    raise NotImplementedError


def merge(plans: Sequence[FacePlan]) -> JobSheets:
    """Buy the sheets of several faces together."""
    raise NotImplementedError
