"""One change of a wall under which a bend that is too tight passes: boards hung another way, a profile, a flatter rise.

Every limit is the catalog's own, with how sure it is; where none is entered, nothing is offered.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Annotated, Literal, get_args

from catalog.core.ground.declared import As, View
from catalog.core.ground.units import TOLERANCE_MM, format_length
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import Fact, Material, Sureness
from jobs.core.framing.framing import SIXTEENTH_MM
from jobs.core.measure.bending import THIN_LAYER_MM, Bend, check_layers, check_track, limit_of_board
from jobs.core.measure.curve import Face, curve_of
from jobs.core.measure.dimension_holds import every_dimension
from jobs.core.measure.survey import ArcPiece, ChordRise, SurveyError
from jobs.core.measure.wall_spec import Direction, Layer, Moisture, WallSpec
from jobs.core.takeoff.decided_about import without_decisions
from jobs.core.takeoff.wall_work_up import WallWorkUp, survey_of
from jobs.core.trim.trim import plan_trims
from jobs.core.trim.trim_bend import limit_of
from jobs.core.trim.trim_choice import ANSWER_WORDS, choices_of

WayKind = Literal["hung", "layers", "board", "profile", "rise", "corner"]
OPEN = ("fails", "not_permitted", "gap")
_SHEET = {"lengthwise": "along the sheet", "widthwise": "across the sheet"}


@dataclass(frozen=True)
class WayOut(View):
    """One change under which a bend passes.

    key: names it among the ways of the wall, e.g. "left/GB-14/lengthwise/damp/2" or "left/piece-1/rise". kind: "hung"
    of the same boards damp, along or across, "layers" of a thin board, another "board" or "profile", a flatter "rise",
    a curved "corner". least_radius_mm: the limit it keeps, with its source and how sure it is; None for a corner.
    wall: so changed, without the decisions about what is changed. reason: of the decision a corner is; else empty.
    """

    key: str
    kind: WayKind
    words: str
    least_radius_mm: float | None
    source: str
    sure: Sureness | None
    wall: Annotated[WallSpec, As(aside=True)]
    reason: str = ""


def part_of(bend: Bend) -> str:
    """What of the wall is bent: "left", "right", "track" or "trim-n"."""
    return bend.key.split("/")[1]


def board_ways(wall: WallWorkUp, face: Face, book: Catalog) -> list[tuple[WayOut, frozenset[int]]]:
    """Every way to hang a face that spoils nothing else, nearest first, each with the arcs, by index, it passes on.

    All of one board in the catalog, dry or damp, along or across the sheet, in one layer, two, or as many as there
    are; a thin one never alone, which is common practice, but where it is.
    """
    present = wall.spec.face(face).layers
    thick_mm = wall.curve.left_build_up_mm if face == "left" else wall.curve.right_build_up_mm
    builds = [
        (board, count, thickness.number * count)
        for board in book.materials.values()
        if board.kind == "board" and (thickness := board.fact("thickness_mm"))
        for count in sorted({1, 2, len(present)})
        if count > 1 or not _is_thin(thickness.number) or (len(present) == 1 and _is(board, present))
    ]
    builds.sort(key=lambda build: (not _is(build[0], present), abs(build[2] - thick_mm), build[0].code))
    return [way for board, count, _ in builds for way in _hung(wall, face, board, count, book)]


def _hung(
    wall: WallWorkUp, face: Face, board: Material, count: int, book: Catalog
) -> Iterator[tuple[WayOut, frozenset[int]]]:
    present = wall.spec.face(face).layers
    limits = [
        (Layer(board.code, direction, moisture), limit)
        for moisture in get_args(Moisture)
        for direction in get_args(Direction)
        if (limit := limit_of_board(board, direction, moisture))
    ]
    bends = _judged(wall, _with_layers(wall.spec, face, (Layer(board.code),) * count), book, face) if limits else ()
    arcs: dict[int, float] = {}
    for bend in bends:
        if part_of(bend) == face and bend.radius_mm:
            arcs[bend.piece_index] = min(bend.radius_mm, arcs.get(bend.piece_index, math.inf))
    for layer, limit in limits:
        passes = frozenset(at for at, radius_mm in arcs.items() if radius_mm >= limit.number - TOLERANCE_MM)
        if passes:
            kind, words = _in_words(board, count, layer, present)
            key = f"{face}/{board.code}/{layer.direction}/{layer.moisture}/{count}"
            yield _way(key, kind, words, limit, _with_layers(wall.spec, face, (layer,) * count)), passes


def profile_ways(wall: WallWorkUp, number: int, book: Catalog, on_day: date) -> Iterator[WayOut]:
    """Every allowed way to have a run of trim, by its number from 1, in another profile or form; see `choices_of`."""
    spec, plan = wall.spec, wall.trims[number - 1]
    for choice in choices_of(plan, spec, book.materials, on_day, book.firm.display_units).ways:
        if choice.is_allowed and not choice.is_chosen:
            run = replace(plan.run, material=choice.material, form=choice.form)
            changed = replace(spec, trims=(*spec.trims[: number - 1], run, *spec.trims[number:]))
            limit = limit_of(book.materials[choice.material], choice.form, run.way)
            key, words = f"trim-{number}/{choice.material}/{choice.form}", f"{choice.name}, {ANSWER_WORDS[choice.form]}"
            yield _way(key, "profile", words, limit, without_decisions(spec, changed))


def rise_way(wall: WallWorkUp, bend: Bend, book: Catalog) -> WayOut | None:
    """The least change of rise on the same chord under which a bend passes, as a tape reads it: to 1/16 in or 1 mm.

    bend: the tightest of what is bent there. The readings of the arc and the marks of figures that change go with it.
    None where no limit is known, nothing so flat is an arc, or the wall is none then. Source: R = c^2/(8h) + h/2.
    """
    spec, at = wall.spec, bend.piece_index
    piece = spec.pieces[at]
    if bend.least_radius_mm is None or not isinstance(piece, ArcPiece):
        return None
    solved, system = piece.given.solve(), book.firm.display_units
    chord_mm = round(2 * solved.radius_mm * math.sin(solved.sweep_rad / 2), 2)
    if isinstance(piece.given, ChordRise):
        chord_mm = piece.given.chord_mm
    radius_mm = solved.radius_mm + bend.least_radius_mm - bend.radius_mm
    root_mm, more = math.sqrt(max(radius_mm**2 - chord_mm**2 / 4, 0.0)), solved.sweep_rad > math.pi
    step_mm = SIXTEENTH_MM if system == "imperial" else 1.0
    rise = (radius_mm + root_mm if more else radius_mm - root_mm) / step_mm
    steps = math.ceil(rise - 1e-9) if more else math.floor(rise + 1e-9)
    if steps <= 0:
        return None
    rise_mm = round(steps * step_mm, 4)
    arc = replace(piece, given=ChordRise(chord_mm, rise_mm), turn=piece.turn or solved.turn)
    changed = _with_piece(spec, at, arc)
    judged, part = _judged(wall, changed, book, part_of(bend)), part_of(bend)
    if not judged or any(one.verdict in OPEN and (part_of(one), one.piece_index) == (part, at) for one in judged):
        return None
    words = f"Rise {format_length(rise_mm, system)} or {'more' if more else 'less'}"
    key = f"{part}/piece-{at + 1}/rise"
    return WayOut(key, "rise", words, bend.least_radius_mm, bend.source, bend.sure, changed)


def _with_piece(spec: WallSpec, at: int, arc: ArcPiece) -> WallSpec:
    changed = replace(spec, pieces=(*spec.pieces[:at], arc, *spec.pieces[at + 1 :]))
    same = {one.place for one in {*every_dimension(spec)} & {*every_dimension(changed)}}
    marks = tuple(one for one in spec.taken.marks if one.dimension in same)
    readings = tuple(one for one in spec.taken.readings if one.piece != at)
    return replace(changed, taken=replace(spec.taken, marks=marks, readings=readings))


def _judged(wall: WallWorkUp, changed: WallSpec, book: Catalog, part: str) -> tuple[Bend, ...]:
    """Every bend of the wall so changed; none where it is not a wall, or something but `part` fails that did not."""
    materials = book.materials
    try:
        curve = curve_of(survey_of(changed, materials))
    except SurveyError:
        return ()
    bends: list[Bend] = [*check_layers(curve, changed, materials), *check_track(curve, changed, materials)]
    thicker_mm = abs(curve.left_build_up_mm - wall.curve.left_build_up_mm)
    thicker_mm += abs(curve.right_build_up_mm - wall.curve.right_build_up_mm)
    arcs = [arc for plan in wall.trims for arc in plan.arcs if arc.verdict == "passes"]
    # No radius changes by more than the boards do, and a flatter rise spoils none: most trim need not be looked at.
    if any(arc.radius_mm - (arc.least_radius_mm or 0.0) < thicker_mm for arc in arcs):
        bends += (arc for plan in plan_trims(curve, changed, materials) for arc in plan.arcs)
    before = {bend.key for bend in wall.bends if bend.verdict in OPEN}
    spoilt = any(bend.verdict in OPEN and bend.key not in before and part_of(bend) != part for bend in bends)
    return () if spoilt else tuple(bends)


def _with_layers(spec: WallSpec, face: Face, layers: tuple[Layer, ...]) -> WallSpec:
    build = replace(spec.face(face), layers=layers)
    return without_decisions(spec, replace(spec, left=build) if face == "left" else replace(spec, right=build))


def _way(key: str, kind: WayKind, words: str, limit: Fact | None, wall: WallSpec) -> WayOut:
    assert limit is not None
    return WayOut(key, kind, words, limit.number, limit.source, limit.sure, wall)


def _in_words(board: Material, count: int, layer: Layer, present: Sequence[Layer]) -> tuple[WayKind, str]:
    """Only what differs from how the face is hung now."""
    thickness = board.fact("thickness_mm")
    is_other = count != len(present) or not _is(board, present)
    layers = {1: "One layer of ", 2: "Two layers of "}.get(count, "") if count != len(present) else ""
    parts = [f"{layers}{board.name}"] if is_other else []
    parts += [layer.moisture] if any(layer.moisture != one.moisture for one in present) else []
    parts += [_SHEET[layer.direction]] if any(layer.direction != one.direction for one in present) else []
    if not is_other:
        return "hung", f"Hang {', '.join(parts)}"
    is_thin = layers.startswith("Two") and thickness is not None and _is_thin(thickness.number)
    return "layers" if is_thin else "board", ", ".join(parts)


def _is(board: Material, present: Sequence[Layer]) -> bool:
    return {layer.board for layer in present} == {board.code}


def _is_thin(thickness_mm: float) -> bool:
    return thickness_mm <= THIN_LAYER_MM + TOLERANCE_MM
