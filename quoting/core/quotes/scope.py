"""What a quote will build, in words a client understands: each wall's scope, and the schedule of trim."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from catalog.core.ground.declared import As, View
from catalog.core.ground.units import System, format_length
from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.curve import Curve, CurvePiece, Face
from jobs.core.measure.wall_spec import ON_TOP, FaceBuild, TrimRun
from jobs.core.measure.wall_words import height_words
from jobs.core.takeoff.takeoff import Takeoff
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim import TrimPlan

SIXTEENTH_IN_MM = 25.4 / 16


@dataclass(frozen=True)
class WallScope(View):
    """One wall in plain words: its key and name, and sentences a client understands."""

    key: Annotated[str, As(aside=True)]
    name: Annotated[str, As(name="wall")]
    sentences: tuple[str, ...]


@dataclass(frozen=True)
class TrimBend(View):
    """How a run of trim goes along one piece of a wall.

    side: concave, convex, straight or template. radius_mm: at the back of the piece, > 0, on the finished face; None
    on a straight and to a template.
    """

    side: str
    radius_mm: float | None


@dataclass(frozen=True)
class TrimScope(View):
    """One row of the schedule of trim: on which wall and face, the profile, concave or convex, radii and length.

    radius_mm: at the back of the piece, on the finished face, the tightest along the run; None on a straight run.
    bends: every piece of the wall the run follows, in walking order.
    """

    wall: str
    face: str
    profile: str
    curve: str
    radius_mm: float | None
    length_mm: float
    note: str
    bends: tuple[TrimBend, ...] = ()


def scope_of(wall: WallWorkUp, book: Catalog) -> WallScope:
    """Say in plain words what will be built of a wall.

    wall: worked up. book: the catalog, for the names of boards and profiles and the firm's units.
    Returns sentences on shape, frame, both faces, openings, trim and insulation. Source: own convention.
    """
    system = book.firm.display_units
    sentences = [
        _shape_sentence(wall.curve, system),
        _frame_sentence(wall, book, system),
        *_face_sentences(wall, book),
        *_opening_sentences(wall.curve, system),
        *_trim_sentences(wall, book),
    ]
    if wall.spec.insulated:
        sentences.append("The cavity is filled with insulation.")
    return WallScope(wall.spec.key, wall.spec.name, tuple(sentences))


def _shape_sentence(curve: Curve, system: System) -> str:
    parts = [_piece_words(curve, piece, system) for piece in curve.pieces]
    walked = parts[0] if len(parts) == 1 else f"walked from its start: {'; then '.join(parts)}"
    height = f"{height_words(curve, system)} high"
    length = format_length(curve.centre_length_mm, system)
    closing = ", closed on itself" if curve.is_closed else ""
    return f"A wall {length} long on its centreline{closing} and {height}, {walked}."


def _piece_words(curve: Curve, piece: CurvePiece, system: System) -> str:
    if piece.is_template:
        return f"built to a template for {format_length(piece.length_mm, system)}"
    if not piece.is_arc:
        return f"straight for {format_length(piece.length_mm, system)}"
    line = curve.line_of(piece, "concave", "finished")
    inner = format_length(piece.radius_at(curve.offset_mm(line)), system)
    outer_line = curve.line_of(piece, "convex", "finished")
    outer = format_length(piece.radius_at(curve.offset_mm(outer_line)), system)
    side = "left" if piece.turn > 0 else "right"
    return f"curving {side} at a finished radius of {inner} on the concave and {outer} on the convex face"


def _frame_sentence(wall: WallWorkUp, book: Catalog, system: System) -> str:
    depth = format_length(wall.curve.stud_depth_mm, system)
    bays = sorted({choice.chosen_mm for choice in wall.framing.spacings})
    spaced = f" at most {' and '.join(format_length(bay, system) for bay in bays)} apart" if bays else ""
    where = "at the floor and along its free top" if wall.spec.is_half_wall else "at floor and ceiling"
    return f"Light steel studs {depth} deep{spaced}, in curvable track {where}."


def _face_sentences(wall: WallWorkUp, book: Catalog) -> list[str]:
    sentences = []
    for face in ("left", "right"):
        build = wall.spec.face(face)
        side = _side_words(wall.curve, face)
        if not build.layers:
            sentences.append(f"{side}: no board.")
            continue
        painted = "primed and painted" if build.painted else "left unpainted"
        level = f"finished to level {build.level} (GA-214)" if build.level else "not finished"
        sentences.append(f"{side}: {_layer_words(build, book)}, {level}, {painted}.")
    return sentences


def _layer_words(build: FaceBuild, book: Catalog) -> str:
    names = [
        book.materials[layer.board].name if layer.board in book.materials else layer.board for layer in build.layers
    ]
    count = {1: "one layer", 2: "two layers", 3: "three layers"}.get(len(names), f"{len(names)} layers")
    if len(set(names)) == 1:
        return f"{count} of {names[0]}"
    return f"{count}: {', then '.join(names)}"


def _side_words(curve: Curve, face: Face) -> str:
    """The face as a client can find it: by its curve when all arcs turn one way, else by the walk."""
    turns = {piece.turn for piece in curve.pieces if piece.is_arc}
    if len(turns) == 1:
        left_is_concave = turns == {1}
        return "Concave side" if (face == "left") == left_is_concave else "Convex side"
    return f"{face.capitalize()} side"


def _opening_sentences(curve: Curve, system: System) -> list[str]:
    sentences = []
    for laid in curve.openings:
        opening = laid.opening
        size = f"{format_length(opening.width_mm, system)} wide and {format_length(opening.height_mm, system)} high"
        cut = "with a flat frame" if opening.frame == "flat" else "cut to the curve"
        if opening.arch_rise_mm is not None:
            cut = f"its head an arch rising {format_length(opening.arch_rise_mm, system)}"
        faces = {"both": "both faces", "left": "the left face", "right": "the right face"}
        cut += f", cased on {faces[opening.casing.faces]}" if opening.casing else ""
        sill = "" if opening.reaches_floor else f", its sill {format_length(opening.sill_mm, system)} above the floor"
        sentences.append(f"{opening.name}: rough opening {size}{sill}, {cut}.")
    return sentences


def _trim_sentences(wall: WallWorkUp, book: Catalog) -> list[str]:
    sentences = []
    for run in wall.spec.trims:
        side = "Free top of the wall" if run.position == ON_TOP else _side_words(wall.curve, run.face)
        profile = _profile(run, book)
        # Many profiles carry their grade in their name; it is not said twice.
        grade = f", {run.grade} grade" if run.grade and "grade" not in profile.lower() else ""
        sentences.append(f"{run.name}: {profile}{grade}, on the {side[0].lower()}{side[1:]}.")
    return sentences


def _profile(run: TrimRun, book: Catalog) -> str:
    return book.materials[run.material].name if run.material in book.materials else run.material


def trim_rows(wall: WallWorkUp, book: Catalog) -> list[TrimScope]:
    """The rows of a wall in the schedule of trim, one for each run.

    wall: worked up. book: the catalog, for the names of profiles. Returns the rows in the wall's order, lengths
    and radii in mm. Source: own convention; the radius is that of the back of the piece.
    """
    rows = []
    for plan in wall.trims:
        arcs = [arc for arc in plan.arcs if arc.radius_mm > 0]
        tightest = min(arcs, key=lambda arc: arc.radius_mm) if arcs else None
        sides = sorted({str(arc.side) for arc in plan.arcs if arc.radius_mm > 0 or arc.side == "template"})
        rows.append(
            TrimScope(
                wall.spec.name,
                "Free top" if plan.run.position == ON_TOP else _side_words(wall.curve, plan.run.face),
                _profile(plan.run, book),
                " and ".join(sides) if sides else "straight",
                tightest.radius_mm if tightest else None,
                plan.net_mm,
                _trim_note(plan, _profile(plan.run, book)),
                _bends(plan, wall.curve),
            )
        )
    return rows


def _bends(plan: TrimPlan, curve: Curve) -> tuple[TrimBend, ...]:
    arcs = {arc.piece_index: arc for arc in plan.arcs if arc.radius_mm > 0}
    flat = {piece.index: "template" if piece.is_template else "straight" for piece in curve.pieces}
    return tuple(
        TrimBend(str(arcs[place].side), arcs[place].radius_mm) if place in arcs else TrimBend(flat[place], None)
        for place, _ in enumerate(curve.pieces)
    )


def _trim_note(plan: TrimPlan, profile: str) -> str:
    notes = {
        "stock": "",
        "bendable": "bendable profile",
        "pre_curved": "made to the curve",
        "template": "made to a template",
    }
    grade = f"{plan.run.grade} grade" if plan.run.grade and "grade" not in profile.lower() else ""
    parts = [notes[plan.run.form], grade]
    return ", ".join(part for part in parts if part)


def radius_sentences(wall: WallWorkUp, system: System) -> tuple[str, ...]:
    """Say how well the radii of a wall are known, where the survey tells it.

    wall: worked up. system: units of the words. Returns a sentence for each arc that was read more than once or
    whose band is wider than a sixteenth of an inch; none for an arc entered by its radius alone. Source: own
    convention: what a price rests on is said beside it.
    """
    several = len(wall.bands) > 1
    return tuple(
        f"{wall.spec.name}{f', piece {band.piece_index + 1}' if several else ''}: the radius as measured, "
        f"{str(band.line).replace('_', ' ')}, is {band.found.band.words(system)}."
        for band in wall.bands
        if band.found.band.half_width_mm > SIXTEENTH_IN_MM
    )


def access_sentences(takeoff: Takeoff, book: Catalog) -> tuple[str, ...]:
    """Say which lengths have to be brought to the room.

    takeoff: of the job. book: the catalog, for the lengths of packs and the firm's units. Returns one sentence on
    the longest stick, sheet or profile that is bought, none when no pack has a length. Source: own convention.

    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> access_sentences(Takeoff((), (), ()), Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards()))
    ()
    """
    sentences = []
    for purchase in takeoff.purchases:
        material = book.materials.get(purchase.material)
        bought = {count.pack for count in purchase.packs if count.count}
        packs = material.packs if material else ()
        sentences += [(pack.length_mm, purchase.name) for pack in packs if pack.code in bought and pack.length_mm]
    if not sentences:
        return ()
    length_mm, name = max(sentences, key=lambda pair: pair[0])
    length = format_length(length_mm, book.firm.display_units)
    return (f"Lengths of up to {length} can be carried to the room in one piece ({name}).",)
