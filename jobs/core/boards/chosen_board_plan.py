"""A proven board plan as it is kept: where the joints stand and how the sheets are cut, in words of the trade.

A kept plan is used while the walls, the studs and the catalog are what it was made for, and never without being
checked again. What it was made for is told by a mark: whatever moves a board or a price changes the mark.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from itertools import pairwise
from typing import Annotated, Any

from catalog.core.ground.declared import (
    As,
    Declared,
    Items,
    Length,
    Money,
    Real,
    Refs,
    Schema,
    Text,
    Whole,
)
from catalog.core.ground.document_reader import Reader
from catalog.core.materials.standards import Standards
from jobs.core.boards.board_check import Fault, check_face, check_sheets
from jobs.core.boards.board_optimiser import ProvenJob
from jobs.core.boards.board_search import BoardSearch, Chosen, Run
from jobs.core.boards.boards import (
    FROM_BELOW,
    FROM_LEFT,
    BoardLayer,
    BoughtSheet,
    FacePlan,
    JobSheets,
    LaidFace,
    LayerPlan,
    Offcut,
    SheetCut,
    SheetPiece,
    counts_of,
)
from jobs.core.cutting.sheet_cutting import METHODS
from jobs.core.measure.curve import Curve, Face

SAME_PLACE_MM = 0.01
"""Places along a wall this near are one place: kept to a thousandth, studs stand much farther apart."""


TOLD_AS = {
    "off_stud": "joint-off-stud",
    "near_opening": "joint-near-opening",
    "too_near": "joint-stagger",
    "level_joints": "horizontal-joint-stagger",
}
"""Kinds of fault a plan may have where the studs leave no way, and the finding in which it must say so."""


MAX_FACES = 200
MAX_SHEETS = 5_000
MAX_ON_SHEET = 1_000
MAX_LAYERS = 20
MAX_COURSES = 200


@dataclass(frozen=True)
class Heights(Items):
    """The heights between which the courses of a layer lie, floor and ceiling included."""

    def read(self, reader: Reader, name: str) -> tuple[Any, ...]:
        heights = reader.raw(name)
        if not isinstance(heights, list) or not 2 <= len(heights) <= self.most:
            raise reader.error(name, f"must be a list of 2 to {self.most} heights, floor and ceiling included")
        return super().read(reader, name)

    def schema(self, refs: Refs) -> Schema:
        return super().schema(refs) | {"minItems": 2}


WALL = "Key of the wall."
FACE = "As seen walking the wall."
MADE_FOR = "Tells what the plan was made for."
COST = "What its sheets or sticks cost, money."
QUICK_COST = "What those of the quick plan cost, money."
BOUND_COST = "What no plan can cost less than, money."


@dataclass(frozen=True)
class KeptJoint:
    """One butt joint."""

    layer: Annotated[int, Whole(1, MAX_LAYERS), "From the framing, from 1."]
    course: Annotated[int, Whole(1, MAX_COURSES), "From the floor, from 1."]
    along_mm: Annotated[float, Length(), "Along the centreline from the start of the wall."]


@dataclass(frozen=True)
class KeptFace:
    """One face: the heights between which the courses of each layer lie, and every butt joint.

    mark: see `face_mark`. courses: mm above the floor.
    """

    wall: Annotated[str, Text(40), WALL]
    face: Annotated[Face, FACE]
    mark: Annotated[str, Text(64), MADE_FOR]
    courses: Annotated[
        tuple[tuple[float, ...], ...],
        Items(Heights(Length(), MAX_COURSES), MAX_LAYERS),
        "Per layer from the framing, floor and ceiling included.",
        As(absent=()),
    ]
    joints: Annotated[tuple[KeptJoint, ...], "Every butt joint.", As(absent=())]


@dataclass(frozen=True)
class KeptCut:
    """One board on its sheet, by its lower left corner."""

    wall: Annotated[str, Text(40), WALL]
    face: Annotated[Face, FACE]
    board: Annotated[int, Whole(1, 100_000), "Number of the board on its face."]
    across_mm: Annotated[float, Length(), FROM_LEFT]
    up_mm: Annotated[float, Length(), FROM_BELOW]


@dataclass(frozen=True)
class KeptSheet:
    """One sheet to buy, its boards by their lower left corners, and what is left of it."""

    material: Annotated[str, Text(60), "Code of the material."]
    pack: Annotated[str, Text(60), "Code of the pack."]
    cuts: Annotated[tuple[KeptCut, ...], Items(Declared(KeptCut), MAX_ON_SHEET), "What is cut from it.", As(absent=())]
    offcuts: Annotated[tuple[Offcut, ...], Items(Declared(Offcut), MAX_ON_SHEET), "What is left of it.", As(absent=())]


@dataclass(frozen=True)
class KeptBoards:
    """A board plan that a person chose: where the joints stand and how the sheets are cut.

    Money is None while not known; the gap without a bound.
    """

    by: Annotated[str, Text(200), "Who chose it."] = field(default="", kw_only=True)
    on: Annotated[date | None, "When."] = field(default=None, kw_only=True)
    cost: Annotated[Decimal | None, Money(), COST]
    quick_cost: Annotated[Decimal | None, Money(), QUICK_COST]
    bound_cost: Annotated[Decimal | None, Money(), BOUND_COST]
    gap: Annotated[float | None, Real("0", "1000"), "Cost above the bound as a share of it."]
    faces: Annotated[
        tuple[KeptFace, ...], Items(Declared(KeptFace), MAX_FACES), "Every face that carries boards.", As(absent=())
    ]
    sheets: Annotated[
        tuple[KeptSheet, ...], Items(Declared(KeptSheet), MAX_SHEETS), "Every sheet to buy.", As(absent=())
    ]

    def face(self, wall: str, face: Face) -> KeptFace | None:
        """That face's part of the plan, None when it has none."""
        return next((chosen for chosen in self.faces if (chosen.wall, chosen.face) == (wall, face)), None)


def face_mark(
    curve: Curve, face: Face, layers: Sequence[BoardLayer], stud_along_mm: Sequence[float], standards: Standards
) -> str:
    """What the boards of a face rest on, as a short text that changes with any of it.

    Args:
        curve: the wall, with its heights and openings. face: of it. layers: to be hung, with sheets and prices.
        stud_along_mm: where studs stand, mm. standards: the distances joints keep.

    Returns:
        64 signs; lengths count to a millionth of a mm, so that reading and writing does not move it.

    Source: OURS.

    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.measure.curve import _example, curve_of
    >>> wall = curve_of(_example())
    >>> one, other = (face_mark(wall, "left", [], [stud], starter_standards()) for stud in (0.0, 0.0000001))
    >>> one == other, one == face_mark(wall, "left", [], [1.0], starter_standards())
    (True, False)
    """
    rules = [standards.fact(name) for name in ("joint_stagger_mm", "joint_clear_of_opening_mm")]
    rest = (curve.stud_depth_mm, curve.left_build_up_mm, curve.right_build_up_mm, curve.heights, curve.openings)
    value = (face, curve.pieces, rest, tuple(layers), tuple(stud_along_mm), [rule and rule.value for rule in rules])
    return hashlib.sha256(repr(_plain(value)).encode()).hexdigest()


def _plain(value: object) -> object:
    """Nested lists of texts and figures; a dataclass counts by its fields."""
    if isinstance(value, bool) or value is None or isinstance(value, int | str):
        return value
    if isinstance(value, float):
        return round(value, 6) + 0.0
    if isinstance(value, Decimal):
        return format(value.normalize(), "f")
    if is_dataclass(value):
        return [(field.name, _plain(getattr(value, field.name))) for field in fields(value)]
    if isinstance(value, Mapping):
        return sorted((str(name), _plain(entry)) for name, entry in value.items())
    if isinstance(value, list | tuple):
        return [_plain(entry) for entry in value]
    return repr(value)


def keep_boards(proven: ProvenJob, marks: Mapping[tuple[str, Face], str]) -> KeptBoards:
    """A proven plan as it is kept, nobody's choice yet.

    Args:
        proven: the plan. marks: of every face of it, by wall and face.

    Returns:
        The plan with lengths to a thousandth of a mm.

    Source: OURS.

    >>> keep_boards(ProvenJob((), JobSheets((), (), ()), None, None, None, ()), {}).faces
    ()
    """
    faces = tuple(
        KeptFace(
            plan.key,
            plan.face,
            marks[plan.key, plan.face],
            tuple(_lines(layer) for layer in plan.layers),
            tuple(
                KeptJoint(joint.layer, joint.course, round(joint.along_mm, 3))
                for layer in plan.layers
                for joint in layer.joints
            ),
        )
        for plan in proven.plans
    )
    sheets = tuple(_kept_sheet(sheet, proven.sheets) for sheet in proven.sheets.sheets)
    return KeptBoards(proven.cost, proven.quick_cost, proven.bound_cost, proven.gap, faces, sheets)


def _lines(layer: LayerPlan) -> tuple[float, ...]:
    return (*(course.foot_mm for course in layer.courses), layer.courses[-1].head_mm)


def _kept_sheet(sheet: BoughtSheet, sheets: JobSheets) -> KeptSheet:
    cuts = []
    for cut in sheet.cuts:
        wall, face, number = sheets.pieces[cut.piece - 1]
        cuts.append(KeptCut(wall, face, number, cut.across_mm, cut.up_mm))
    return KeptSheet(sheet.board, sheet.pack_code, tuple(cuts), sheet.offcuts)


# --- using it again -----------------------------------------------------------------------------------------


def face_by_kept(
    laid: LaidFace, face: KeptFace, curve: Curve, stud_along_mm: Sequence[float], standards: Standards
) -> tuple[FacePlan | None, tuple[Fault, ...]]:
    """A face hung by the joints of a chosen plan.

    Args:
        laid: the face made ready. face: its part of the chosen plan. curve, stud_along_mm, standards: it was laid for.

    Returns:
        The plan, and what the independent check finds wrong with it; None with no fault when the joints do not fit
        the face. A joint rule that the studs do not let be kept is named in the plan's findings, not here.

    Source: OURS.

    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.boards.boards import Sheet, lay_out_face
    >>> from jobs.core.measure.curve import _example, curve_of
    >>> wall, sheet = curve_of(_example()), Sheet("4x8", 2438.4, 1219.2)
    >>> layers = [BoardLayer("GB", 3.175, "lengthwise", (sheet,)) for _ in range(4)]
    >>> laid = lay_out_face(wall, "left", layers, [0.0, wall.centre_length_mm], starter_standards())
    >>> face_by_kept(laid, KeptFace("w", "left", "", (), ()), wall, [], starter_standards())
    (None, ())
    """
    search = next((search for search in laid.searches if _same_courses(search, face.courses)), None)
    chosen = None if search is None else _chosen(search, face.joints)
    if search is None or chosen is None:
        return None, ()
    plan = laid.finished(search, search.judge(chosen, [METHODS] * len(search.groups)))
    stagger, clear = standards.fact("joint_stagger_mm"), standards.fact("joint_clear_of_opening_mm")
    assert stagger is not None and clear is not None  # without them nothing is laid out
    faults = check_face(curve, plan, laid.layers, stud_along_mm, stagger_mm=stagger.number, clear_mm=clear.number)
    return replace(plan, is_chosen=True), unsaid(plan, faults)


def unsaid(plan: FacePlan, faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Faults that the plan's own findings do not say.

    plan: of one face. faults: what the independent check found. Returns those that make the plan unfit.

    >>> unsaid(FacePlan("w", "left", (), (), (), None, ()), [Fault("cover", "a gap")])
    (Fault(kind='cover', sentence='a gap'),)
    """
    keys = {finding.key.rsplit("/", 1)[1] for finding in plan.findings}
    return tuple(fault for fault in faults if TOLD_AS.get(fault.kind) not in keys)


def _same_courses(search: BoardSearch, courses: Sequence[Sequence[float]]) -> bool:
    lines = [layer.course_lines_mm for layer in search.layers]
    return [len(course) for course in lines] == [len(course) for course in courses] and all(
        abs(a - b) <= SAME_PLACE_MM
        for line, other in zip(lines, courses, strict=True)
        for a, b in zip(line, other, strict=True)
    )


def _chosen(search: BoardSearch, joints: Sequence[KeptJoint]) -> list[Chosen] | None:
    """The places of every run that are joints; None when a joint stands nowhere or a board cannot span two."""
    left = {(joint.layer, joint.course): set[float]() for joint in joints}
    for joint in joints:
        left[joint.layer, joint.course].add(joint.along_mm)
    choices: list[Chosen] = []
    for run in search.runs:
        wanted = left.get((run.layer + 1, run.course + 1), set())
        turn = search.lines[run.layer].curve.centre_length_mm
        taken = {index: along for along in wanted if (index := _index_of(run, along, turn)) is not None}
        wanted -= set(taken.values())
        last = len(run.places) - 1
        chosen = sorted(taken) if run.closed else [0, *sorted(taken), last]
        if run.closed:
            chosen += [chosen[0] + len(run.places)] if chosen else []
        if not chosen or not all(_spans(run, here, there) for here, there in pairwise(chosen)):
            return None
        choices.append(tuple(chosen))
    return None if any(left.values()) else choices


def _index_of(run: Run, along_mm: float, turn_mm: float) -> int | None:
    inner = range(len(run.places)) if run.closed else range(1, len(run.places) - 1)
    for index in inner:
        apart = abs(run.places[index].along_mm - along_mm)
        if apart <= SAME_PLACE_MM or abs(apart - turn_mm) <= SAME_PLACE_MM:
            return index
    return None


def _spans(run: Run, here: int, there: int) -> bool:
    return any(arc.steps == there - here for arc in run.arcs[here % len(run.places)])


def sheets_by_kept(boards: KeptBoards, plans: Sequence[FacePlan]) -> tuple[JobSheets | None, tuple[Fault, ...]]:
    """The sheets of a chosen plan for faces hung by it.

    Args:
        boards: the plan. plans: all faces of the job that carry boards.

    Returns:
        The sheets, and what the independent check finds wrong with them; None with no fault when the faces are not
        those of the plan, or a sheet or board it names is not there.

    Source: OURS.

    >>> sheets_by_kept(KeptBoards(None, None, None, None, (), ()), [])[1]
    ()
    """
    if {(face.wall, face.face) for face in boards.faces} != {(plan.key, plan.face) for plan in plans}:
        return None, ()
    pieces = [(plan, layer, piece) for plan in plans for layer in plan.layers for piece in layer.pieces]
    numbers = {(plan.key, plan.face, piece.number): n for n, (plan, _, piece) in enumerate(pieces, 1)}
    sheets = []
    for number, sheet in enumerate(boards.sheets, 1):
        bought = _bought(number, sheet, numbers, pieces)
        if bought is None:
            return None, ()
        sheets.append(bought)
    named = tuple((plan.key, plan.face, piece.number) for plan, _, piece in pieces)
    job_sheets = JobSheets(counts_of(sheets), tuple(sheets), named)
    return job_sheets, check_sheets(job_sheets, plans)


def _bought(
    number: int,
    sheet: KeptSheet,
    numbers: Mapping[tuple[str, Face, int], int],
    pieces: Sequence[tuple[FacePlan, LayerPlan, SheetPiece]],
) -> BoughtSheet | None:
    boards = [numbers.get((cut.wall, cut.face, cut.board)) for cut in sheet.cuts]
    known = [n for n in boards if n is not None]
    if not known or len(known) < len(boards):
        return None
    _, layer, _ = pieces[known[0] - 1]
    stock = next((stock for stock in layer.available if stock.code == sheet.pack), None)
    if stock is None or layer.board != sheet.material:
        return None
    lengthwise = layer.direction == "lengthwise"
    across, up = (stock.length_mm, stock.width_mm) if lengthwise else (stock.width_mm, stock.length_mm)
    cuts = tuple(
        SheetCut(n, cut.across_mm, cut.up_mm, pieces[n - 1][2].width_mm, pieces[n - 1][2].height_mm)
        for n, cut in zip(known, sheet.cuts, strict=True)
    )
    return BoughtSheet(number, layer.board, layer.direction, stock.code, across, up, stock.price, cuts, sheet.offcuts)
