"""Where every board of one face lies: courses, joints on studs, the sheets to buy and what is left of them.

A face carries one or more layers. Each layer is developed (rolled out flat) along the longer of its two
surfaces, so a piece cut to its developed length is never short. A layer is hung in courses; in a course the
boards butt on studs. Heights are above the floor; distances along the centreline are `along_mm`, distances
along the layer's own developed line are `from_mm`, `to_mm` and `at_mm`.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise, product
from typing import Annotated, Literal

from catalog.core.ground.declared import As, Length, View
from catalog.core.ground.refusal import InvalidValue
from catalog.core.ground.units import TOLERANCE_MM, System, format_measure
from catalog.core.materials.standards import STANDARD_SPECS, Standards
from jobs.core.boards.board_layout import (
    LayerLine,
    Surface,
    board_height_at,
    course_lines,
    level_stretches,
    line_of_layer,
    stud_places,
    surface_of,
)
from jobs.core.boards.board_search import (
    NEAR_OPENING,
    OFF_STUD,
    Arc,
    BoardSearch,
    Chosen,
    HungLayer,
    Rules,
    Run,
    Solution,
)
from jobs.core.cutting.sheet_cutting import METHODS, Blank, CutSheet, SheetKind, cut_sheets, weight_of
from jobs.core.measure.curve import Curve, Face
from jobs.core.measure.findings import Finding
from jobs.core.measure.wall_spec import Direction

CoursesFrom = Literal["floor", "ceiling"]


class BoardError(InvalidValue):
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
            raise BoardError("direction", f"{self.board} is bent lengthwise or widthwise, not {self.direction!r}")
        if not self.sheets:
            raise BoardError("sheets", f"{self.board} needs at least one sheet size to buy")
        codes = [sheet.code for sheet in self.sheets]
        if len(set(codes)) != len(codes):
            raise BoardError("sheets", f"the sheets of {self.board} need different codes; these are {', '.join(codes)}")


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
class Course(View):
    """One course: number from 1 upwards, foot and head above the floor in mm."""

    number: int
    foot_mm: float
    head_mm: float


FROM_LEFT = "From the left edge of the sheet as it hangs."
FROM_BELOW = "From the lower edge of the sheet as it hangs."


@dataclass(frozen=True)
class Offcut:
    """One rectangle that is left of a bought sheet."""

    across_mm: Annotated[float, Length(), FROM_LEFT]
    up_mm: Annotated[float, Length(), FROM_BELOW]
    width_mm: Annotated[float, Length(), "Across, as the sheet hangs."]
    height_mm: Annotated[float, Length(), "Up, as the sheet hangs."]


@dataclass(frozen=True)
class SheetCut:
    """One piece on its sheet: number of the piece, lower left corner, width across and height up, mm."""

    piece: int
    across_mm: float
    up_mm: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True)
class BoughtSheet:
    """One sheet to buy and how it is cut.

    number: from 1 within the plan. board, pack_code: what it is. direction: how it hangs. across_mm, up_mm: its
    extent as it hangs. cuts: the pieces cut from it, by straight cuts from edge to edge. offcuts: what is left,
    usable or not.
    """

    number: int
    board: str
    direction: Direction
    pack_code: str
    across_mm: float
    up_mm: float
    price: Decimal | None
    cuts: tuple[SheetCut, ...]
    offcuts: tuple[Offcut, ...]

    @property
    def pieces(self) -> tuple[int, ...]:
        return tuple(cut.piece for cut in self.cuts)


@dataclass(frozen=True)
class SheetCount(View):
    """How many sheets of one pack. cost: count x price, None when the price is not stated."""

    board: str
    pack_code: Annotated[str, As(name="pack")]
    count: int
    price: Annotated[Decimal | None, As(aside=True)]

    @property
    def cost(self) -> Decimal | None:
        return None if self.price is None else self.price * self.count


@dataclass(frozen=True)
class LayerPlan:
    """One layer hung.

    line_radii_mm: per piece of the curve, the radius of the surface it is developed on (the longer of the
    layer's two), 0 on a straight. developed_mm: length of that line. joints: butt joints. corner_mm: upright
    length at kinks of the wall, where boards end but no butt joint stands. net_area_mm2: on the developed line,
    openings out. available: the sheets that could be bought. purchase: sheets first cut for this layer (a later
    layer may use up their off-cuts).
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
    available: tuple[Sheet, ...]
    purchase: tuple[SheetCount, ...]

    @property
    def joint_length_mm(self) -> float:
        return sum(j.length_mm for j in self.joints) + sum(h.length_mm for h in self.horizontal_joints)


@dataclass(frozen=True)
class FacePlan:
    """One face hung: its layers from the framing outwards, the sheets to buy, and what must be known about it.

    bound_cost: no plan of these layers can cost less (net area at the best price per area), None while a price
    is missing. findings: joints that cannot keep their distance, missing standards and prices. key: of the wall.
    is_chosen: whether its joints are those of a plan that a person chose, instead of the quick plan's.
    """

    key: str
    face: Face
    layers: tuple[LayerPlan, ...]
    sheets: tuple[BoughtSheet, ...]
    purchase: tuple[SheetCount, ...]
    bound_cost: Decimal | None
    findings: tuple[Finding, ...]
    is_chosen: bool = False

    @property
    def cost(self) -> Decimal | None:
        """Money for all sheets, None while a price is missing."""
        return cost_of(self.purchase)

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
    """Sheets of several faces bought together.

    purchase: what to buy. sheets: how they are cut; piece n (from 1) there is `pieces[n - 1]`: key of the plan, its
    face, and the number of the piece in it.
    """

    purchase: tuple[SheetCount, ...]
    sheets: tuple[BoughtSheet, ...]
    pieces: tuple[tuple[str, Face, int], ...]

    @property
    def cost(self) -> Decimal | None:
        """Money for all sheets, None while a price is missing."""
        return cost_of(self.purchase)


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
    rounds: int | None = None,
    system: System = "imperial",
) -> FacePlan:
    """Plan the boards of one face: where each lies, its joints on studs, and the sheets to buy.

    Args:
        curve: the wall, with its heights and openings.
        face: "left" or "right", as seen walking.
        layers: of this face, from the framing outwards; together as thick as the curve's build-up there.
        stud_along_mm: where studs stand, along the centreline from its start, mm, in any order.
        standards: `joint_stagger_mm` and `joint_clear_of_opening_mm` are used.
        key: of the wall, for findings.
        courses_from: whole courses stand on the floor or hang from the ceiling.
        seed: of the search; the same input and seed give the same plan.
        rounds: of the search for a cheaper plan, >= 0; None for as many as the size of the face calls for.
        system: the units in which findings say lengths.

    Returns:
        The plan. A rule these studs cannot keep is kept as nearly as possible and named in a finding; with a
        standard missing there are no layers, only the gap.

    Raises:
        BoardError: studs off the wall, or layers not as thick as the build-up.

    Source: sheet ends on studs, no shared joints, half a sheet to start: PRACTICE; face joints offset from base
    joints: Gypsum Association, *Using Gypsum Board*, section IV. Joints near each other in one course, and the
    distance between two layers taken on the shorter line: OURS.

    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.measure.curve import curve_of
    >>> from jobs.core.measure.survey import HeightProfile, StraightPiece, Survey
    >>> survey = Survey((StraightPiece(4876.8),), HeightProfile(((0.0, 2438.4),)), "centre", 92.0, 12.7, 0.0)
    >>> sheet = Sheet("4x8", 2438.4, 1219.2, Decimal("11.00"))
    >>> studs = [406.4 * n for n in range(13)]
    >>> plan = plan_face(curve_of(survey), "left", [BoardLayer("GB", 12.7, "lengthwise", (sheet,))], studs,
    ...     starter_standards())
    >>> plan.purchase[0].count, plan.cost
    (4, Decimal('44.00'))
    """
    laid = lay_out_face(
        curve, face, layers, stud_along_mm, standards, key=key, courses_from=courses_from, seed=seed, system=system
    )
    if laid is None:
        return FacePlan(key, face, (), (), (), None if layers else Decimal(0), _missing(key, face, layers, standards))
    return laid.finished(*laid.quick(rounds))


@dataclass(frozen=True)
class LaidFace:
    """One face made ready for the search of its joints: a search for every way its courses may lie."""

    key: str
    face: Face
    layers: tuple[BoardLayer, ...]
    groups: SheetGroups
    searches: tuple[BoardSearch, ...]
    system: System = "imperial"

    def start(self) -> tuple[BoardSearch, Solution]:
        """The best first solution, and the search it comes from."""
        solutions = [(search, search.first_solutions()[0]) for search in self.searches]
        best = solutions[0]
        for pair in solutions[1:]:
            if pair[1].standing.beats(best[1].standing):
                best = pair
        return best

    def quick(self, rounds: int | None = None) -> tuple[BoardSearch, Solution]:
        """The heuristic's solution after so many rounds, None for as many as the size of the face calls for."""
        search, solution = self.start()
        return search, search.improve(solution, _rounds(search) if rounds is None else rounds)

    def finished(self, search: BoardSearch, solution: Solution) -> FacePlan:
        """The plan of a solution."""
        return _finished(self, search, solution)


def lay_out_face(
    curve: Curve,
    face: Face,
    layers: Sequence[BoardLayer],
    stud_along_mm: Sequence[float],
    standards: Standards,
    *,
    key: str = "wall",
    courses_from: CoursesFrom = "floor",
    seed: int = 0,
    system: System = "imperial",
) -> LaidFace | None:
    """Lay a face out for planning; arguments and refusals as `plan_face`, None without layers or a standard.

    Source: as `plan_face`.

    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.measure.curve import _example, curve_of
    >>> lay_out_face(curve_of(_example()), "left", [], [], starter_standards()) is None
    True
    """
    _check(curve, face, layers, stud_along_mm)
    stagger = standards.fact("joint_stagger_mm")
    clear = standards.fact("joint_clear_of_opening_mm")
    if stagger is None or clear is None or not layers:
        return None
    rules = Rules(stagger.number, clear.number)
    groups = SheetGroups.of([(layer.board, layer.direction, layer.sheets) for layer in layers])
    surfaces = _surfaces(curve, face, layers)
    studs = stud_places(stud_along_mm, curve.centre_length_mm, loop=surfaces[0].line.is_loop)
    searches = []
    for courses in _course_choices(curve.greatest_height_mm, layers, courses_from, rules):
        hung = [HungLayer(s, c, g, studs) for s, c, g in zip(surfaces, courses, groups.of_item, strict=True)]
        searches.append(BoardSearch(hung, groups.kinds, rules, seed))
    return LaidFace(key, face, tuple(layers), groups, tuple(searches), system)


def merge(plans: Sequence[FacePlan]) -> JobSheets:
    """Buy the sheets of several faces together, an off-cut of one serving another where that is cheaper.

    Args:
        plans: of the faces of one job; each pair of key and face once.

    Returns:
        The sheets; never dearer than the plans apart, and every piece of every plan is on exactly one.

    Raises:
        BoardError: a face given twice.

    Source: quantities merge over the walls of a job before rounding to packs (OURS).

    >>> merge([]).purchase
    ()
    """
    names = [(plan.key, plan.face) for plan in plans]
    for name in names:
        if names.count(name) > 1:
            raise BoardError("plans", f"the {name[1]} face of {name[0]} is given {names.count(name)} times")
    pieces = [(plan, layer, piece) for plan in plans for layer in plan.layers for piece in layer.pieces]
    numbers = {(plan.key, plan.face, piece.number): n for n, (plan, _, piece) in enumerate(pieces, 1)}
    groups = SheetGroups.of([(layer.board, layer.direction, layer.available) for _, layer, _ in pieces])
    blanks: list[list[Blank]] = [[] for _ in groups.kinds]
    owners: dict[tuple[str, Face, int], int] = {}
    for (plan, _, piece), group in zip(pieces, groups.of_item, strict=True):
        number = numbers[plan.key, plan.face, piece.number]
        blanks[group].append(Blank(number, piece.width_mm, piece.height_mm))
        owners[plan.key, plan.face, piece.sheet_number] = group
    sheets: list[BoughtSheet] = []
    for group, wanted in enumerate(blanks):
        apart = [
            _renumbered(sheet, plan, numbers)
            for plan in plans
            for sheet in plan.sheets
            if owners[plan.key, plan.face, sheet.number] == group
        ]
        cut = min((cut_sheets(wanted, groups.kinds[group], method) for method in METHODS), key=weight_of)
        together = [groups.bought(group, sheet, {}) for sheet in cut]
        before = sum(groups.weight(group, sheet.pack_code) for sheet in apart)
        # A millionth: sums in another order must not look cheaper.
        sheets += together if weight_of(cut) < before * (1 - 1e-6) else apart
    numbered = tuple(replace(sheet, number=n) for n, sheet in enumerate(sheets, 1))
    return JobSheets(counts_of(numbered), numbered, tuple((p.key, p.face, b.number) for p, _, b in pieces))


def cost_of(purchase: Iterable[SheetCount]) -> Decimal | None:
    total = Decimal(0)
    for line in purchase:
        if line.cost is None:
            return None
        total += line.cost
    return total


def counts_of(sheets: Iterable[BoughtSheet]) -> tuple[SheetCount, ...]:
    counted = Counter((sheet.board, sheet.pack_code, sheet.price) for sheet in sheets)
    lines = [SheetCount(board, code, count, price) for (board, code, price), count in counted.items()]
    return tuple(sorted(lines, key=lambda line: (line.board, line.pack_code, str(line.price))))


def _renumbered(sheet: BoughtSheet, plan: FacePlan, numbers: Mapping[tuple[str, Face, int], int]) -> BoughtSheet:
    cuts = tuple(replace(cut, piece=numbers[plan.key, plan.face, cut.piece]) for cut in sheet.cuts)
    return replace(sheet, cuts=cuts)


# --- sheets that may share their off-cuts ------------------------------------------------------------------

_Item = tuple[str, Direction, tuple[Sheet, ...]]


@dataclass(frozen=True)
class SheetGroups:
    """Layers whose pieces may come from one sheet: the same board, hung the same way, bought in the same sizes."""

    items: tuple[_Item, ...]
    kinds: tuple[tuple[SheetKind, ...], ...]
    of_item: tuple[int, ...]

    @classmethod
    def of(cls, items: Sequence[_Item]) -> SheetGroups:
        distinct = tuple(dict.fromkeys(items))
        priced = all(sheet.price is not None for _, _, sheets in distinct for sheet in sheets)
        kinds = tuple(tuple(_kind(sheet, direction, priced) for sheet in sheets) for _, direction, sheets in distinct)
        return cls(distinct, kinds, tuple(distinct.index(item) for item in items))

    def weight(self, group: int, code: str) -> float:
        return next(kind.weight for kind in self.kinds[group] if kind.code == code)

    def bought(self, group: int, sheet: CutSheet, numbers: Mapping[int, int], number: int = 0) -> BoughtSheet:
        board, direction, sheets = self.items[group]
        price = next(stock.price for stock in sheets if stock.code == sheet.kind.code)
        cuts = tuple(
            SheetCut(numbers.get(blank, blank), c.across_mm, c.up_mm, c.width_mm, c.height_mm)
            for blank, c in sheet.cuts
        )
        offcuts = tuple(Offcut(c.across_mm, c.up_mm, c.width_mm, c.height_mm) for c in sheet.free)
        return BoughtSheet(
            number,
            board,
            direction,
            sheet.kind.code,
            sheet.kind.across_mm,
            sheet.kind.up_mm,
            price,
            cuts,
            offcuts,
        )


def _kind(sheet: Sheet, direction: Direction, priced: bool) -> SheetKind:
    across, up = (sheet.length_mm, sheet.width_mm) if direction == "lengthwise" else (sheet.width_mm, sheet.length_mm)
    # Without every price the area bought is made least instead; the gap is reported.
    weight = float(sheet.price) if priced and sheet.price is not None else across * up
    return SheetKind(sheet.code, across, up, weight)


# --- what is given ------------------------------------------------------------------------------------------


def _check(curve: Curve, face: Face, layers: Sequence[BoardLayer], studs: Sequence[float]) -> None:
    built = curve.left_build_up_mm if face == "left" else curve.right_build_up_mm
    thick = sum(layer.thickness_mm for layer in layers)
    if layers and abs(built - thick) > 0.01:
        raise BoardError(
            "layers",
            f"the layers of the {face} face are {thick:g} mm thick together; the wall was laid out for {built:g} mm",
        )
    length = curve.centre_length_mm
    for along in studs:
        # A millimetre, as for the closing of the wall itself.
        if not (math.isfinite(along) and -1.0 <= along <= length + 1.0):
            raise BoardError("studs", f"a stud must stand from 0 to {length:g} mm along the wall, not at {along:g} mm")


def _missing(key: str, face: Face, layers: Sequence[BoardLayer], standards: Standards) -> tuple[Finding, ...]:
    if not layers:
        return ()
    return tuple(
        Finding(
            f"{key}/{face}/boards/{name}",
            "gap",
            f"The boards of the {face} face cannot be planned: fill in the standard "
            f"\u201c{STANDARD_SPECS[name].label}\u201d.",
        )
        for name in ("joint_stagger_mm", "joint_clear_of_opening_mm")
        if standards.fact(name) is None
    )


def _surfaces(curve: Curve, face: Face, layers: Sequence[BoardLayer]) -> list[Surface]:
    surfaces, beneath = [], 0.0
    for layer in layers:
        surfaces.append(surface_of(line_of_layer(curve, face, beneath, layer.thickness_mm)))
        beneath += layer.thickness_mm
    return surfaces


# --- courses ------------------------------------------------------------------------------------------------

_MAX_CHOICES = 12


def _course_choices(
    height_mm: float, layers: Sequence[BoardLayer], courses_from: CoursesFrom, rules: Rules
) -> list[tuple[tuple[float, ...], ...]]:
    """Ways to divide the height into courses, one set of lines per layer, with the fewest near lines."""
    per_layer = [_courses_of(n, layer, len(layers), height_mm, courses_from) for n, layer in enumerate(layers)]
    pitches = [_pitches(layer) for layer in layers]
    while math.prod(len(choices) for choices in per_layer) > _MAX_CHOICES:
        longest = max(range(len(per_layer)), key=lambda n: len(per_layer[n]))
        per_layer[longest] = per_layer[longest][:-1]
    combined: list[tuple[tuple[float, ...], ...]] = list(product(*per_layer))
    fewest = min(len(_near_lines(courses, rules)) for courses in combined)
    fewest_near = [courses for courses in combined if len(_near_lines(courses, rules)) == fewest]
    # Another start than half a sheet only when half a sheet would bring two level joints together.
    usual = [
        courses
        for courses in fewest_near
        if not any(_is_third(*pair, height_mm) for pair in zip(courses, pitches, strict=True))
    ]
    return usual or fewest_near


def _courses_of(
    number: int, layer: BoardLayer, count: int, height_mm: float, courses_from: CoursesFrom
) -> list[tuple[float, ...]]:
    pitches = _pitches(layer)
    # The first layer, and every other one after it, starts with half a sheet when another layer follows.
    halved = count > 1 and number % 2 == 0
    ways: list[tuple[float, ...]] = []
    for pitch in pitches:
        if pitch >= height_mm - TOLERANCE_MM:
            # One course is enough: anything taller only wastes.
            ways.append((0.0, height_mm))
            break
        shares = (0.5, 1 / 3, 2 / 3) if halved else (1.0,)
        ways += [
            course_lines(height_mm, pitch, pitch * share, from_ceiling=courses_from == "ceiling") for share in shares
        ]
    # Halves before thirds, so that thirds are the first to go when there are too many ways.
    return sorted(ways, key=lambda lines: _is_third(lines, pitches, height_mm))


def _pitches(layer: BoardLayer) -> list[float]:
    """Heights a whole course may have: the extents up the wall of the sheets, smallest first."""
    lengthwise = layer.direction == "lengthwise"
    return sorted({sheet.width_mm if lengthwise else sheet.length_mm for sheet in layer.sheets})


def _is_third(lines: tuple[float, ...], pitches: Sequence[float], height_mm: float) -> bool:
    first, last = lines[1], height_mm - lines[-2]
    shares = {round(part / pitch, 4) for pitch in pitches for part in (first, last)}
    return len(lines) > 2 and not shares & {0.5, 1.0}


def _near_lines(courses: Sequence[tuple[float, ...]], rules: Rules) -> list[tuple[int, float, float]]:
    """Horizontal joints of neighbouring layers nearer than the stagger: (outer layer from 1, height, height)."""
    return [
        (number, line, other)
        for number, (inner, outer) in enumerate(pairwise(courses), 2)
        for line in inner[1:-1]
        for other in outer[1:-1]
        if abs(line - other) < rules.stagger_mm - TOLERANCE_MM
    ]


def _rounds(search: BoardSearch) -> int:
    """Rounds of improvement, fewer on a large face.

    Measured on the six walls of the worked examples (both faces): 40 rounds take a fifth of the time of 300 and
    cost 1.4 % more; none at all costs 3.9 % more.
    """
    arcs = sum(len(row) for run in search.runs for row in run.arcs)
    return max(20, min(40, 1_200_000 // max(1, arcs)))


# --- the finished plan --------------------------------------------------------------------------------------


def _finished(laid: LaidFace, search: BoardSearch, solution: Solution) -> FacePlan:
    boards = numbered_boards(search, solution.chosen)
    numbers = {blank: number for number, (blank, _, _, _) in enumerate(boards, 1)}
    sheets = _bought(solution, laid.groups, numbers)
    on_sheet = {cut.piece: (sheet, cut) for sheet in sheets for cut in sheet.cuts}
    pieces = [
        _piece(search, run, here, arc, number, *on_sheet[number])
        for number, (_, run, here, arc) in enumerate(boards, 1)
    ]
    plans = tuple(_layer_plan(n, layer, search, solution, pieces, sheets) for n, layer in enumerate(laid.layers))
    findings = (*_price_gaps(laid.key, laid.face, laid.layers), *_joint_findings(laid, search, solution))
    return FacePlan(laid.key, laid.face, plans, sheets, counts_of(sheets), _bound_cost(plans), findings)


def numbered_boards(search: BoardSearch, chosen: Sequence[Chosen]) -> list[tuple[int, Run, int, Arc]]:
    """Boards in order of layer, course and place, each with the number its blank had; empty ones left out."""
    pieces, blank = [], 0
    for run in search.runs:
        for here, _, arc in run.boards(chosen[run.number]):
            if arc.head_mm - arc.foot_mm > TOLERANCE_MM:
                pieces.append((blank, run, here, arc))
            blank += 1
    return pieces


def _bought(solution: Solution, groups: SheetGroups, numbers: Mapping[int, int]) -> tuple[BoughtSheet, ...]:
    sheets = [groups.bought(group, sheet, numbers) for group, cut in enumerate(solution.sheets) for sheet in cut]
    sheets.sort(key=lambda sheet: min(sheet.pieces))
    return tuple(replace(sheet, number=n) for n, sheet in enumerate(sheets, 1))


def _piece(
    search: BoardSearch, run: Run, here: int, arc: Arc, number: int, sheet: BoughtSheet, cut: SheetCut
) -> SheetPiece:
    surface = search.layers[run.layer].surface
    line = surface.line
    from_mm = _once_round(line, run.places[here % len(run.places)].at_mm[run.layer])
    to_mm = from_mm + arc.width_mm
    notches = tuple(
        Notch(
            h.name,
            max(h.from_mm, from_mm),
            min(h.to_mm, to_mm),
            max(h.sill_mm, arc.foot_mm),
            min(h.head_mm, arc.head_mm),
        )
        for h in surface.holes
        if min(h.to_mm, to_mm) - max(h.from_mm, from_mm) > TOLERANCE_MM
        and min(h.head_mm, arc.head_mm) - max(h.sill_mm, arc.foot_mm) > TOLERANCE_MM
    )
    return SheetPiece(
        number,
        run.layer + 1,
        run.course + 1,
        from_mm,
        to_mm,
        line.along(from_mm),
        line.along(to_mm),
        arc.foot_mm,
        arc.head_mm,
        sheet.pack_code,
        sheet.number,
        cut.across_mm,
        cut.up_mm,
        sheet.across_mm,
        sheet.up_mm,
        arc.head_mm - arc.foot_mm < sheet.up_mm - TOLERANCE_MM,
        arc.width_mm < sheet.across_mm - TOLERANCE_MM,
        notches,
    )


def _once_round(line: LayerLine, at_mm: float) -> float:
    return at_mm - line.length_mm if line.is_loop and at_mm >= line.length_mm - TOLERANCE_MM else at_mm


def _layer_plan(
    number: int,
    layer: BoardLayer,
    search: BoardSearch,
    solution: Solution,
    pieces: Sequence[SheetPiece],
    sheets: Sequence[BoughtSheet],
) -> LayerPlan:
    hung = search.layers[number]
    surface, lines = hung.surface, hung.course_lines_mm
    own = tuple(piece for piece in pieces if piece.layer == number + 1)
    opened = {piece.number for piece in own}
    return LayerPlan(
        number + 1,
        layer.board,
        layer.direction,
        layer.thickness_mm,
        surface.line.radii_mm,
        surface.line.length_mm,
        tuple(Course(n, foot, head) for n, (foot, head) in enumerate(pairwise(lines), 1)),
        own,
        tuple(_butt_joints(number, search, solution)),
        tuple(
            HorizontalJoint(number + 1, height, low, high, surface.line.along(low), surface.line.along(high))
            for height in lines[1:-1]
            for low, high in level_stretches(surface, height)
        ),
        sum(
            board_height_at(surface, at, 0.0, math.inf)
            for at in surface.breaks_mm
            if at <= surface.line.length_mm + TOLERANCE_MM
        ),
        surface.net_area_mm2,
        layer.sheets,
        counts_of(sheet for sheet in sheets if min(sheet.pieces) in opened),
    )


def _butt_joints(number: int, search: BoardSearch, solution: Solution) -> list[ButtJoint]:
    layer, joints = search.layers[number], []
    for run in search.runs:
        if run.layer == number:
            foot, head = layer.course_lines_mm[run.course], layer.course_lines_mm[run.course + 1]
            for index in run.joints(solution.chosen[run.number]):
                place = run.places[index]
                at = _once_round(layer.surface.line, place.at_mm[number])
                top = min(head, layer.surface.greatest(at - 1.0, at + 1.0))
                along = layer.surface.line.along(at) if at != place.at_mm[number] else place.along_mm
                joints.append(ButtJoint(number + 1, run.course + 1, along, at, foot, top, run.joint_mm[index]))
    return sorted(joints, key=lambda joint: (joint.course, joint.at_mm))


def _bound_cost(plans: Sequence[LayerPlan]) -> Decimal | None:
    total = Fraction(0)
    for plan in plans:
        shares = [Fraction(s.price) / Fraction(s.length_mm * s.width_mm) for s in plan.available if s.price is not None]
        if len(shares) < len(plan.available):
            return None
        total += min(shares) * Fraction(plan.net_area_mm2)
    # Rounded down, so that it is never more than the truth.
    return Decimal(math.floor(total * 100)).scaleb(-2)


# --- what must be known -------------------------------------------------------------------------------------


def _price_gaps(key: str, face: Face, layers: Sequence[BoardLayer]) -> list[Finding]:
    gaps = {
        (layer.board, sheet.code): Finding(
            f"{key}/{face}/boards/price/{layer.board}/{sheet.code}",
            "gap",
            f"Sheet {sheet.code} of {layer.board} has no price: the plan makes the area bought least instead of the "
            "cost. Fill in its price.",
        )
        for layer in layers
        for sheet in layer.sheets
        if sheet.price is None
    }
    return list(gaps.values())


def _joint_findings(laid: LaidFace, search: BoardSearch, solution: Solution) -> list[Finding]:
    def length(length_mm: float) -> str:
        return format_measure(length_mm, laid.system)

    def where(run: Run, along_mm: float) -> str:
        return f"layer {run.layer + 1}, course {run.course + 1} at {length(along_mm)}"

    off_stud, near_opening, too_near = [], [], []
    for run in search.runs:
        mine = solution.chosen[run.number]
        for index in run.joints(mine):
            place = run.places[index]
            if place.fault >= OFF_STUD:
                off_stud.append(where(run, place.along_mm))
            if place.fault % OFF_STUD >= NEAR_OPENING:
                near_opening.append(where(run, place.along_mm))
        too_near += [
            f"{where(run, run.places[here % len(run.places)].along_mm)} and the next joint of that course"
            for here, _, arc in run.boards(mine)
            if arc.fault
        ]
    for number, here, other, there in search.near_pairs(solution.chosen):
        first, second = search.runs[number], search.runs[other]
        too_near.append(
            f"{where(first, first.places[here].along_mm)} and {where(second, second.places[there].along_mm)}"
        )
    stagger, clear = length(search.rules.stagger_mm), length(search.rules.clear_mm)
    lines = [
        f"layers {n - 1} and {n} at {length(a)} and {length(b)}"
        for n, a, b in _near_lines([layer.course_lines_mm for layer in search.layers], search.rules)
    ]
    checks = (
        ("joint-off-stud", off_stud, "No stud stands where these sheet ends must meet; add a stud there: "),
        (
            "joint-near-opening",
            near_opening,
            f"These joints stand less than {clear} from the edge of an opening: ",
        ),
        (
            "joint-stagger",
            too_near,
            f"These joints are less than {stagger} apart; other studs would part them: ",
        ),
        ("horizontal-joint-stagger", lines, f"These level joints are less than {stagger} apart in height: "),
    )
    return [
        Finding(f"{laid.key}/{laid.face}/boards/{name}", "decide", f"{sentence}{'; '.join(places)}.", _JOINT_SOURCE)
        for name, places, sentence in checks
        if places
    ]


_JOINT_SOURCE = "Sheet ends land on studs and joints are kept apart: common practice"
