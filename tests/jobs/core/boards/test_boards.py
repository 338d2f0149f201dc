"""Board plans, checked by the independent checker and, on tiny walls, against trying everything."""

import math
from dataclasses import replace
from decimal import Decimal
from functools import cache
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.materials.specs import Fact
from catalog.core.materials.standards import Standards, starter_standards
from jobs.core.boards.board_check import Fault, check_face
from jobs.core.boards.boards import BoardError, BoardLayer, FacePlan, Sheet, merge, plan_face
from jobs.core.measure.curve import Curve, Face, curve_of
from jobs.core.measure.survey import ArcPiece, ChordRise, HeightProfile, Opening, RadiusAngle, StraightPiece, Survey

IN = 25.4
FT = 304.8
STANDARDS = starter_standards()
STAGGER, CLEAR = 10 * IN, 6 * IN  # the starter standards; 10 in is usual practice, 6 in common practice
FOUR_BY_EIGHT = Sheet("4x8", 96 * IN, 48 * IN, Decimal("11.20"))
FOUR_BY_TEN = Sheet("4x10", 120 * IN, 48 * IN, Decimal("14.60"))
FOUR_BY_TWELVE = Sheet("4x12", 144 * IN, 48 * IN, Decimal("17.90"))
QUARTER = BoardLayer("GB-1/4", 0.25 * IN, "lengthwise", (FOUR_BY_EIGHT, FOUR_BY_TEN))
# Kinds of fault a plan may have when it says so itself, and the finding that says it.
TOLD = {
    "off_stud": "joint-off-stud",
    "near_opening": "joint-near-opening",
    "too_near": "joint-stagger",
    "level_joints": "horizontal-joint-stagger",
}


def wall(
    *pieces: StraightPiece | ArcPiece, height: float = 108, top: float | None = None, openings: tuple[Opening, ...] = ()
) -> Curve:
    """A wall of heights in inches with two quarter-inch layers on both faces."""
    stations = ((0.0, height * IN),)
    if top is not None:
        length = sum(p.length_mm for p in curve_of(_bare(pieces, height)).pieces)
        stations = ((0.0, height * IN), (length, top * IN))
    survey = Survey(pieces, HeightProfile(stations), "centre", 92.075, 12.7, 12.7, openings)
    return curve_of(survey)


def _bare(pieces: tuple[StraightPiece | ArcPiece, ...], height: float) -> Survey:
    return Survey(pieces, HeightProfile(((0.0, height * IN),)), "centre", 92.075, 12.7, 12.7)


def studs_of(curve: Curve, greatest_in: float) -> list[float]:
    """Equal spacing from end to end, at most so far apart, as framing would stand them."""
    count = math.ceil(curve.centre_length_mm / (greatest_in * IN) - 1e-9)
    return [curve.centre_length_mm * n / count for n in range(count + 1)]


def faults_of(curve: Curve, plan: FacePlan, layers: list[BoardLayer], studs: list[float]) -> tuple[Fault, ...]:
    return check_face(curve, plan, layers, studs, stagger_mm=STAGGER, clear_mm=CLEAR)


def assert_sound(curve: Curve, plan: FacePlan, layers: list[BoardLayer], studs: list[float]) -> None:
    """Nothing is wrong but what the plan itself says, and what it says is so."""
    words = {fault.kind for fault in faults_of(curve, plan, layers, studs)}
    assert words <= set(TOLD), faults_of(curve, plan, layers, studs)
    texts = {finding.key.rsplit("/", 1)[1] for finding in plan.findings}
    assert {TOLD[kind] for kind in words} == texts & set(TOLD.values())


def dental(*, opening: bool = True) -> Curve:
    """The invented dental job: chord 14 ft, rise 2 ft 6 in on the convex framing line, 9 ft high, one opening."""
    door = (Opening("door", 91.313 * IN, 38.5 * IN, 83 * IN),) if opening else ()
    return curve_of(
        Survey(
            (ArcPiece(ChordRise(168 * IN, 30 * IN), "left"),),
            HeightProfile(((0.0, 108 * IN),)),
            "convex_framing",
            3.625 * IN,
            0.5 * IN,
            0.5 * IN,
            door,
        )
    )


def childcare(chord: float, rise: float) -> Curve:
    """One of the invented childcare job's walls: studs 2-1/2, 8 ft high."""
    return curve_of(
        Survey(
            (ArcPiece(ChordRise(chord * IN, rise * IN), "left"),),
            HeightProfile(((0.0, 96 * IN),)),
            "convex_framing",
            2.5 * IN,
            0.5 * IN,
            0.5 * IN,
        )
    )


# --- figures from outside -----------------------------------------------------------------------------------


def test_layers_are_developed_on_their_longer_surface() -> None:
    # Dental job: convex framing 181.940, convex finished 182.626, concave framing 176.966 in (worked by hand
    # as radius x sweep). Outermost convex layer ends on the finished face; innermost concave starts on framing.
    curve = dental()
    convex = plan_face(curve, "right", [QUARTER, QUARTER], studs_of(curve, 8), STANDARDS)
    concave = plan_face(curve, "left", [QUARTER, QUARTER], studs_of(curve, 8), STANDARDS)
    assert convex.layers[1].developed_mm / IN == pytest.approx(182.626, abs=5e-4)
    assert concave.layers[0].developed_mm / IN == pytest.approx(176.966, abs=5e-4)
    assert convex.layers[1].line_radii_mm[0] / IN == pytest.approx(132.600 + 0.5, abs=5e-4)
    assert concave.layers[0].line_radii_mm[0] / IN == pytest.approx(132.600 - 3.625, abs=5e-4)


def test_the_dental_face_has_its_worked_net_area() -> None:
    # 114.70 sq ft on the convex finished face, worked apart from the program.
    curve = dental()
    plan = plan_face(curve, "right", [QUARTER, QUARTER], studs_of(curve, 8), STANDARDS)
    assert plan.layers[1].net_area_mm2 / FT**2 == pytest.approx(114.70, abs=0.005)


def test_the_childcare_faces_are_sound() -> None:
    for chord, rise in ((120, 18), (96, 24), (144, 20)):
        curve = childcare(chord, rise)
        for face in ("left", "right"):
            studs = studs_of(curve, 8)
            plan = plan_face(curve, face, [QUARTER, QUARTER], studs, STANDARDS)
            assert plan.findings == ()
            assert_sound(curve, plan, [QUARTER, QUARTER], studs)


def test_a_flat_wall_of_whole_sheets_takes_exactly_those_sheets() -> None:
    # 24 x 8 ft is 192 sq ft: six sheets of 32 sq ft, the textbook count, and joints can still be staggered.
    curve = wall(StraightPiece(24 * FT), height=96)
    layer = BoardLayer("GB", 12.7, "lengthwise", (FOUR_BY_EIGHT,))
    plan = plan_face(curve, "left", [layer], studs_of(curve, 16), STANDARDS)
    assert [(line.pack_code, line.count) for line in plan.purchase] == [("4x8", 6)]
    assert plan.cost == plan.bound_cost == Decimal("67.20")


def test_a_height_measured_beyond_the_end_adds_no_course() -> None:
    # 8 ft over the whole wall, the ceiling rises only after it: still the six sheets of the textbook count.
    level = wall(StraightPiece(24 * FT), height=96)
    layer = BoardLayer("GB", 12.7, "lengthwise", (FOUR_BY_EIGHT,))
    beyond = HeightProfile(((0.0, 96 * IN), (24 * FT, 96 * IN), (40 * FT, 140 * IN)))
    plan = plan_face(replace(level, heights=beyond), "left", [layer], studs_of(level, 16), STANDARDS)
    assert len(plan.layers[0].courses) == 2
    assert [line.count for line in plan.purchase] == [6]


# --- the rules ----------------------------------------------------------------------------------------------


def test_the_first_of_two_layers_starts_with_half_a_sheet() -> None:
    curve = wall(StraightPiece(12 * FT))
    plan = plan_face(curve, "left", [QUARTER, QUARTER], studs_of(curve, 8), STANDARDS)
    feet = [[round(course.foot_mm / IN, 6) for course in layer.courses] for layer in plan.layers]
    assert feet == [[0, 24, 72], [0, 48, 96]]


def test_a_single_layer_starts_with_a_whole_sheet_from_floor_or_ceiling() -> None:
    curve = wall(StraightPiece(12 * FT))
    layer = BoardLayer("GB", 12.7, "lengthwise", (FOUR_BY_EIGHT,))
    up = plan_face(curve, "left", [layer], studs_of(curve, 16), STANDARDS)
    down = plan_face(curve, "left", [layer], studs_of(curve, 16), STANDARDS, courses_from="ceiling")
    assert [round(course.foot_mm / IN, 6) for course in up.layers[0].courses] == [0, 48, 96]
    assert [round(course.foot_mm / IN, 6) for course in down.layers[0].courses] == [0, 12, 60]
    assert_sound(curve, down, [layer], studs_of(curve, 16))


def test_standing_sheets_as_high_as_the_wall_make_one_course_without_level_joints() -> None:
    curve = wall(StraightPiece(12 * FT))
    layer = BoardLayer("GB", 6.35, "widthwise", (FOUR_BY_EIGHT, FOUR_BY_TEN))
    studs = studs_of(curve, 8)
    plan = plan_face(curve, "left", [layer, layer], studs, STANDARDS)
    assert all(piece.to_mm - piece.from_mm <= 48 * IN + 1e-6 for entry in plan.layers for piece in entry.pieces)
    assert [entry.horizontal_joints for entry in plan.layers] == [(), ()]
    assert_sound(curve, plan, [layer, layer], studs)


def test_an_opening_as_high_as_a_course_parts_it_and_another_is_notched_out() -> None:
    curve = dental()
    plan = plan_face(curve, "right", [QUARTER, QUARTER], studs_of(curve, 8), STANDARDS)
    outer = plan.layers[1]
    low, high = (curve.developed_mm("right_finished", at) for at in curve.openings[0].span_mm)
    first = [piece for piece in outer.pieces if piece.course == 1]
    assert all(piece.to_mm < (low + high) / 2 or piece.from_mm > (low + high) / 2 for piece in first)
    assert any(piece.notches for piece in outer.pieces if piece.course == 2)


def test_joints_that_these_studs_cannot_keep_apart_are_named() -> None:
    # Studs 60 in apart: a 96 in sheet reaches one stud only, so both courses must break on the same studs.
    curve = wall(StraightPiece(180 * IN), height=96)
    layer = BoardLayer("GB", 12.7, "lengthwise", (FOUR_BY_EIGHT,))
    studs = [0.0, 90 * IN, 180 * IN]
    plan = plan_face(curve, "left", [layer], studs, STANDARDS)
    assert [finding.weight for finding in plan.findings] == ["decide"]
    assert "90.00 in" in plan.findings[0].sentence
    assert_sound(curve, plan, [layer], studs)


def test_a_gap_between_studs_wider_than_any_sheet_is_named() -> None:
    curve = wall(StraightPiece(240 * IN), height=96)
    layer = BoardLayer("GB", 12.7, "lengthwise", (FOUR_BY_EIGHT,))
    plan = plan_face(curve, "left", [layer], [0.0, 240 * IN], STANDARDS)
    assert any(finding.key.endswith("joint-off-stud") for finding in plan.findings)
    assert_sound(curve, plan, [layer], [0.0, 240 * IN])


def test_a_missing_standard_is_a_gap_and_nothing_is_planned() -> None:
    curve = wall(StraightPiece(8 * FT))
    facts = {name: fact for name, fact in STANDARDS.facts.items() if name != "joint_stagger_mm"}
    plan = plan_face(curve, "left", [QUARTER, QUARTER], studs_of(curve, 16), Standards(facts, STANDARDS.spacing_steps))
    assert [(f.weight, f.key) for f in plan.findings] == [("gap", "wall/left/boards/joint_stagger_mm")]
    assert plan.layers == ()
    assert plan.bound_cost is None


def test_a_missing_price_is_a_gap_and_area_is_made_least() -> None:
    curve = wall(StraightPiece(8 * FT), height=96)
    layer = BoardLayer("GB", 12.7, "lengthwise", (Sheet("4x12", 144 * IN, 48 * IN), FOUR_BY_EIGHT))
    plan = plan_face(curve, "left", [layer], studs_of(curve, 16), STANDARDS)
    assert [(line.pack_code, line.count) for line in plan.purchase] == [("4x8", 2)]
    assert plan.cost == Decimal("22.40")
    assert plan.bound_cost is None
    assert [finding.weight for finding in plan.findings] == ["gap"]
    assert "4x12" in plan.findings[0].sentence


def test_a_face_without_board_needs_nothing() -> None:
    curve = wall(StraightPiece(8 * FT))
    plan = plan_face(curve, "left", [], studs_of(curve, 16), STANDARDS)
    assert (plan.layers, plan.purchase, plan.findings, plan.cost) == ((), (), (), Decimal(0))


def test_bad_sheets_layers_and_studs_are_refused() -> None:
    curve = wall(StraightPiece(8 * FT))
    with pytest.raises(BoardError, match="6.35 mm thick together; the wall was laid out for 12.7 mm"):
        plan_face(curve, "left", [QUARTER], studs_of(curve, 16), STANDARDS)
    for off in (-50.0, 9 * FT, math.nan):
        with pytest.raises(BoardError, match="a stud must stand from 0 to 2438.4 mm"):
            plan_face(curve, "left", [QUARTER, QUARTER], [off], STANDARDS)
    for bad in (
        lambda: Sheet("S", 100.0, 200.0),
        lambda: Sheet("S", math.inf, 200.0),
        lambda: Sheet("S", 200.0, 0.0),
        lambda: Sheet("S", 200.0, 100.0, Decimal("NaN")),
        lambda: Sheet("S", 200.0, 100.0, Decimal(-1)),
        lambda: BoardLayer("GB", 0.0, "lengthwise", (FOUR_BY_EIGHT,)),
        lambda: BoardLayer("GB", 12.7, "sideways", (FOUR_BY_EIGHT,)),  # type: ignore[arg-type]
        lambda: BoardLayer("GB", 12.7, "lengthwise", ()),
        lambda: BoardLayer("GB", 12.7, "lengthwise", (FOUR_BY_EIGHT, FOUR_BY_EIGHT)),
    ):
        with pytest.raises(BoardError):
            bad()


# --- joints to tape, corners, columns -----------------------------------------------------------------------


def test_tape_runs_along_every_joint_of_the_outermost_layer() -> None:
    # 16 x 8 ft, one layer, two courses: one level joint of 16 ft, and a 4 ft upright joint per butt.
    curve = wall(StraightPiece(16 * FT), height=96)
    layer = BoardLayer("GB", 12.7, "lengthwise", (FOUR_BY_EIGHT,))
    plan = plan_face(curve, "left", [layer], studs_of(curve, 16), STANDARDS)
    butts = len(plan.layers[0].joints)
    assert butts >= 2
    assert plan.tape_joint_mm == pytest.approx(16 * FT + butts * 4 * FT)


def test_boards_end_at_a_kink_and_its_corner_is_counted() -> None:
    curve = wall(StraightPiece(8 * FT), StraightPiece(8 * FT, kink_rad=math.radians(45)))
    studs = studs_of(curve, 8)
    plan = plan_face(curve, "left", [QUARTER, QUARTER], studs, STANDARDS)
    assert [layer.corner_mm for layer in plan.layers] == pytest.approx([108 * IN, 108 * IN])
    assert_sound(curve, plan, [QUARTER, QUARTER], studs)


def column(height: float = 96) -> Curve:
    half = RadiusAngle(30 * IN, math.pi)
    return wall(ArcPiece(half, "left"), ArcPiece(half, "left"), height=height)


@pytest.mark.parametrize("face", ["left", "right"])
def test_a_round_column_is_closed_by_joints_on_studs(face: Face) -> None:
    curve = column()
    assert curve.is_closed
    studs = studs_of(curve, 6)
    plan = plan_face(curve, face, [QUARTER, QUARTER], studs, STANDARDS)
    assert plan.findings == ()
    assert_sound(curve, plan, [QUARTER, QUARTER], studs)
    for layer in plan.layers:
        for course in layer.courses:
            boards = [piece for piece in layer.pieces if piece.course == course.number]
            joints = [joint for joint in layer.joints if joint.course == course.number]
            assert len(boards) == len(joints) >= 2
            assert sum(piece.width_mm for piece in boards) == pytest.approx(layer.developed_mm)


def test_a_column_with_a_door_is_sound() -> None:
    half = RadiusAngle(40 * IN, math.pi)
    door = (Opening("hatch", 30 * IN, 24 * IN, 60 * IN),)
    curve = wall(ArcPiece(half, "left"), ArcPiece(half, "left"), height=96, openings=door)
    studs = studs_of(curve, 6)
    plan = plan_face(curve, "right", [QUARTER, QUARTER], studs, STANDARDS)
    assert_sound(curve, plan, [QUARTER, QUARTER], studs)


# --- the checker finds what is wrong ------------------------------------------------------------------------


def sound_plan() -> tuple[Curve, FacePlan, list[float]]:
    curve = dental()
    studs = studs_of(curve, 8)
    return curve, plan_face(curve, "right", [QUARTER, QUARTER], studs, STANDARDS), studs


def with_piece(plan: FacePlan, number: int, **changes: object) -> FacePlan:
    layers = tuple(
        replace(layer, pieces=tuple(replace(p, **changes) if p.number == number else p for p in layer.pieces))  # type: ignore[arg-type]
        for layer in plan.layers
    )
    return replace(plan, layers=layers)


def kinds(curve: Curve, plan: FacePlan, studs: list[float]) -> set[str]:
    return {fault.kind for fault in faults_of(curve, plan, [QUARTER, QUARTER], studs)}


def test_the_checker_passes_a_sound_plan() -> None:
    curve, plan, studs = sound_plan()
    assert faults_of(curve, plan, [QUARTER, QUARTER], studs) == ()


def test_the_checker_finds_a_board_left_out_and_one_hung_twice() -> None:
    curve, plan, studs = sound_plan()
    layer = plan.layers[0]
    short = replace(plan, layers=(replace(layer, pieces=layer.pieces[1:]), plan.layers[1]))
    twice = with_piece(plan, 1, course=2, foot_mm=24 * IN, head_mm=48 * IN)
    assert "cover" in kinds(curve, replace(short, sheets=()), studs)
    assert "overlap" in kinds(curve, twice, studs)


def test_the_checker_finds_joints_off_studs_or_too_near() -> None:
    curve, plan, studs = sound_plan()
    assert "off_stud" in kinds(curve, plan, [stud + 20.0 for stud in studs])
    wide = check_face(curve, plan, [QUARTER, QUARTER], studs, stagger_mm=2000.0, clear_mm=CLEAR)
    far = check_face(curve, plan, [QUARTER, QUARTER], studs, stagger_mm=STAGGER, clear_mm=2000.0)
    assert {fault.kind for fault in wide} == {"too_near", "level_joints"}
    assert {fault.kind for fault in far} == {"near_opening"}


def test_the_checker_finds_miscounts_misfits_and_wrong_lengths() -> None:
    curve, plan, studs = sound_plan()
    short = tuple(replace(line, count=line.count - 1) for line in plan.purchase)
    assert kinds(curve, replace(plan, purchase=short), studs) == {"count"}
    assert kinds(curve, replace(plan, sheets=plan.sheets[1:]), studs) >= {"sheet", "count"}
    narrow = tuple(replace(sheet, across_mm=500.0) for sheet in plan.sheets)
    assert "sheet" in kinds(curve, replace(plan, sheets=narrow), studs)
    layer = replace(plan.layers[0], developed_mm=plan.layers[1].developed_mm)
    assert kinds(curve, replace(plan, layers=(layer, plan.layers[1])), studs) == {"length"}
    bare = replace(plan.layers[0], joints=())
    assert "joints" in kinds(curve, replace(plan, layers=(bare, plan.layers[1])), studs)


# --- generated walls ----------------------------------------------------------------------------------------

inches = st.integers(1, 16).map(lambda n: n / 16)
arcs = st.builds(
    lambda radius, degrees, turn: ArcPiece(RadiusAngle(radius * IN, math.radians(degrees)), turn),
    st.integers(40, 400),
    st.integers(20, 110),
    st.sampled_from(["left", "right"]),
)
straights = st.builds(
    lambda length, kink: StraightPiece(length * IN, math.radians(kink)),
    st.integers(20, 150),
    st.sampled_from([0, 0, 0, 30, -50]),
)


@st.composite
def walls(draw: st.DrawFn) -> Curve:
    pieces = tuple(draw(st.lists(arcs | straights, min_size=1, max_size=3)))
    height = draw(st.integers(60, 130)) + draw(inches)
    top = draw(st.none() | st.integers(60, 150))
    bare = curve_of(_bare(pieces, height))
    openings = ()
    roomy = [p for p in bare.pieces if p.length_mm > 80 * IN and (p.turn == 0 or p.radius_mm > 60 * IN)]
    if roomy and draw(st.booleans()):
        piece = draw(st.sampled_from(roomy))
        sill = draw(st.sampled_from([0.0, 0.0, 30.0]))
        high = draw(st.integers(20, 55)) - sill / 2
        middle = piece.start_mm + piece.length_mm * draw(st.floats(0.4, 0.6))
        frame = draw(st.sampled_from(["flat", "radial"]))
        openings = (Opening("opening", middle, draw(st.integers(12, 40)) * IN, high * IN, sill * IN, frame),)
    return wall(*pieces, height=height, top=top, openings=openings)


@given(
    walls(),
    st.sampled_from([6.0, 8.0, 16.0]),
    st.sampled_from(["lengthwise", "widthwise"]),
    st.sampled_from(["floor", "ceiling"]),
    st.integers(1, 2),
)
@settings(max_examples=25, deadline=None)
def test_every_plan_of_a_generated_wall_passes_the_independent_check(
    curve: Curve, spacing: float, direction: str, courses_from: str, count: int
) -> None:
    sheets = (FOUR_BY_EIGHT, FOUR_BY_TWELVE)
    layers = [BoardLayer("GB", 12.7 / count, direction, sheets) for _ in range(count)]  # type: ignore[arg-type]
    studs = studs_of(curve, spacing)
    for face in ("left", "right"):
        plan = plan_face(curve, face, layers, studs, STANDARDS, courses_from=courses_from)  # type: ignore[arg-type]
        assert_sound(curve, plan, layers, studs)
        assert plan.cost is not None
        assert plan.bound_cost is not None
        assert plan.cost >= plan.bound_cost


def test_the_same_input_gives_the_same_plan() -> None:
    curve = dental()
    studs = studs_of(curve, 8)
    plans = [plan_face(curve, "right", [QUARTER, QUARTER], studs, STANDARDS) for _ in range(2)]
    assert plans[0] == plans[1]


# --- trying everything on tiny walls ------------------------------------------------------------------------


def least_sheets_by_trying_all(length: float, courses: tuple[float, ...], studs: list[float], sheet: Sheet) -> int:
    """Reference: every set of joints the rules allow, and for each the fewest sheets that hold the pieces.

    Courses are too high for two pieces of one sheet to lie above each other, so a sheet holds the pieces whose
    lengths add up to its own. All lengths in mm.
    """
    inner = studs[1:-1]
    ways = [
        chosen
        for size in range(len(inner) + 1)
        for chosen in combinations(inner, size)
        if all(b - a <= sheet.length_mm + 1e-6 for a, b in pairwise([0.0, *chosen, length]))
        and all(b - a >= STAGGER - 1e-6 for a, b in pairwise(chosen))
    ]
    best = math.inf

    # No way is better than the total length over a sheet's: once it is met the rest need no trying.
    floor = math.ceil(len(courses) * length / sheet.length_mm - 1e-9)

    def extend(values_so_far: list[tuple[float, ...]]) -> None:
        nonlocal best
        if best == floor:
            return
        if len(values_so_far) == len(courses):
            pieces = [b - a for way in values_so_far for a, b in pairwise([0.0, *way, length])]
            best = min(best, _fewest_bins(tuple(sorted(round(piece, 6) for piece in pieces)), sheet.length_mm))
            return
        for way in ways:
            if not values_so_far or all(abs(a - b) >= STAGGER - 1e-6 for a in way for b in values_so_far[-1]):
                extend([*values_so_far, way])

    extend([])
    return int(best)


@cache
def _fewest_bins(pieces: tuple[float, ...], capacity: float) -> int:
    """Fewest bins of a capacity: the longest piece with every set of others that fits beside it."""
    if not pieces:
        return 0
    longest, rest = pieces[-1], pieces[:-1]
    fewest = len(pieces)
    for size in range(len(rest) + 1):
        for beside in combinations(range(len(rest)), size):
            if longest + sum(rest[i] for i in beside) <= capacity + 1e-5:
                left = tuple(piece for i, piece in enumerate(rest) if i not in beside)
                fewest = min(fewest, 1 + _fewest_bins(left, capacity))
    return fewest


TINY = [
    (length, spacing, courses) for length in (88, 100, 112, 128, 136, 150) for spacing in (20, 24) for courses in (1, 2)
]


def test_tiny_walls_take_the_fewest_sheets_that_trying_everything_finds() -> None:
    # Heights of whole courses, 48 in each, so that no two pieces of one sheet lie above each other.
    sheet = Sheet("4x8", 96 * IN, 48 * IN, Decimal(1))
    over = []
    for length, spacing, courses in TINY:
        curve = wall(StraightPiece(length * IN), height=48 * courses)
        studs = studs_of(curve, spacing)
        layer = BoardLayer("GB", 12.7, "lengthwise", (sheet,))
        plan = plan_face(curve, "left", [layer], studs, STANDARDS)
        least = least_sheets_by_trying_all(length * IN, (48 * IN,) * courses, studs, sheet)
        bought = sum(line.count for line in plan.purchase)
        assert bought >= least
        over.append(bought - least)
    assert sum(over) == 0


# --- several faces together ---------------------------------------------------------------------------------


def childcare_plans() -> list[FacePlan]:
    plans = []
    for key, chord, rise in (("A", 120, 18), ("B", 96, 24), ("C", 144, 20)):
        curve = childcare(chord, rise)
        for face in ("left", "right"):
            plans.append(plan_face(curve, face, [QUARTER, QUARTER], studs_of(curve, 8), STANDARDS, key=key))
    return plans


def test_faces_bought_together_never_cost_more_and_lose_no_piece() -> None:
    plans = childcare_plans()
    job = merge(plans)
    assert job.cost is not None
    assert job.cost <= sum(plan.cost for plan in plans if plan.cost is not None)
    assert sorted(cut.piece for sheet in job.sheets for cut in sheet.cuts) == list(range(1, len(job.pieces) + 1))
    sizes = {
        (p.key, p.face, b.number): (b.width_mm, b.height_mm) for p in plans for layer in p.layers for b in layer.pieces
    }
    assert sorted(sizes) == sorted(job.pieces)
    for sheet in job.sheets:
        for cut in sheet.cuts:
            assert (cut.width_mm, cut.height_mm) == pytest.approx(sizes[job.pieces[cut.piece - 1]])
            assert cut.across_mm + cut.width_mm <= sheet.across_mm + 1e-6
            assert cut.up_mm + cut.height_mm <= sheet.up_mm + 1e-6
    assert sum(line.count for line in job.purchase) == len(job.sheets)


def test_a_face_given_twice_is_refused() -> None:
    plan = childcare_plans()[0]
    with pytest.raises(BoardError, match="the left face of A is given 2 times"):
        merge([plan, plan])


def test_standards_are_read_from_the_firm() -> None:
    curve = wall(StraightPiece(16 * FT), height=96)
    layer = BoardLayer("GB", 12.7, "lengthwise", (FOUR_BY_EIGHT,))
    far = {**STANDARDS.facts, "joint_stagger_mm": Fact(Decimal(1200), "the firm", "firm")}
    studs = studs_of(curve, 16)
    plan = plan_face(curve, "left", [layer], studs, Standards(far, STANDARDS.spacing_steps))
    assert check_face(curve, plan, [layer], studs, stagger_mm=1200.0, clear_mm=CLEAR) == ()
