"""One wall worked up: curve, checks, framing, boards, trim, finishing, and every quantity it needs.

The steps run in the reading order of the core. A step that lacks a figure leaves a named gap and whatever
depends on it out; the others still run, so that one missing limit never hides the rest of the wall.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from catalog.core.ground.units import MM_PER_INCH, TOLERANCE_MM, System, format_both, format_degrees, format_length
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import Material
from catalog.core.materials.standards import Standards
from jobs.core.boards.boards import BoardError, BoardLayer, FacePlan, LaidFace, Sheet, lay_out_face, plan_face
from jobs.core.boards.chosen_board_plan import KeptFace, face_by_kept, face_mark
from jobs.core.framing.framing import Framing, TrackRun, add_sheet_end_studs, frame
from jobs.core.measure.bending import (
    Bend,
    BendCheck,
    TrackCheck,
    check_layers,
    check_track,
    overridden,
    override_of,
    practice_notes,
    template_findings,
)
from jobs.core.measure.bending import findings as bend_findings
from jobs.core.measure.curve import FACES, Curve, Face, crossing_of, curve_of
from jobs.core.measure.dimension_holds import Hold, holds_on
from jobs.core.measure.explanation import Explanation, Quantity
from jobs.core.measure.findings import Finding, Override
from jobs.core.measure.key_words import key_words
from jobs.core.measure.offsets_fit import OffsetsFit, off_pieces
from jobs.core.measure.radius_band import ArcBand, CheckBand, arc_bands, band_findings, check_bands, tape_of
from jobs.core.measure.room_tie import RoomPlace, place_in_room, room_findings
from jobs.core.measure.survey import Survey, SurveyError, TemplatePiece
from jobs.core.measure.swapped_readings import RISE_OVER_CHORD, swapped_findings
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.finishing import finish
from jobs.core.trim.arches_and_backing import (
    ArchWork,
    BackingLine,
    TrackPiece,
    arch_works,
    backing_lines,
    laps_mm,
    shape_notes,
    spliced_mm,
    track_pieces,
)
from jobs.core.trim.casings import CasedOpening, cased_openings, casing_quantities
from jobs.core.trim.trim import TrimPlan, plan_trims
from jobs.core.trim.trim_overlaps import overlaps

KINK_TO_SAY_RAD = math.radians(1)
"""A kink from 1 degree is said aloud: under that a face of a usual wall moves by no more than a tape reads."""
BULGE_TO_SAY_MM = MM_PER_INCH / 8
"""A jamb bulge from 1/8 in is said aloud: the least a tape shows. Our own convention."""


@dataclass(frozen=True)
class StickPiece:
    """Pieces to cut from sticks: `count` of `length_mm` (> 0) each of one material of one wall.

    spliced: a part of a run longer than any stick.
    """

    wall: str
    material: str
    label: str
    length_mm: float
    count: int = 1
    spliced: bool = False


@dataclass(frozen=True)
class WallWorkUp:
    """Everything worked out of one wall; `findings` says what is missing or must be known.

    bands: how well each arc's radius is known. check_bands: where the limits of the checks stand in them. baseline: the
    offsets the pieces were fitted to and how far they stand off. holds: what keeps trim from being released to order.
    arches: the openings with arched heads. track_pieces: what top and bottom track are cut to. backing: where it is
    let in. cased: the openings with a casing, and casings their quantities. room: where it stands in the room, None
    while nothing ties it there.
    """

    spec: WallSpec
    curve: Curve
    bend_checks: tuple[BendCheck, ...]
    track_checks: tuple[TrackCheck, ...]
    framing: Framing
    face_plans: tuple[FacePlan, ...]
    trims: tuple[TrimPlan, ...]
    quantities: tuple[Quantity, ...]
    sticks: tuple[StickPiece, ...]
    findings: tuple[Finding, ...]
    bands: tuple[ArcBand, ...] = ()
    check_bands: tuple[CheckBand, ...] = ()
    baseline: OffsetsFit | None = None
    holds: tuple[Hold, ...] = ()
    arches: tuple[ArchWork, ...] = ()
    track_pieces: tuple[TrackPiece, ...] = ()
    backing: tuple[BackingLine, ...] = ()
    cased: tuple[CasedOpening, ...] = ()
    casings: tuple[Quantity, ...] = ()
    room: RoomPlace | None = None

    @property
    def bends(self) -> tuple[Bend, ...]:
        """Every check of a bend: layers, track, trim."""
        return (*self.bend_checks, *self.track_checks, *(arc for trim in self.trims for arc in trim.arcs))

    @property
    def track_sticks(self) -> tuple[StickPiece, ...]:
        """Top and bottom track as it is cut: whole sticks and the rest of each run; empty while no stick is known."""
        spec = self.spec
        return tuple(
            StickPiece(spec.key, spec.track, f"{spec.name} {piece.kind} track {piece.run}", piece.length_mm)
            for piece in self.track_pieces
        )

    @property
    def stud_count(self) -> int:
        """Members in the wall, sheet-end studs and cripples included; heads and sills laid flat are beside them."""
        return self.framing.member_count

    @property
    def laid_flat_count(self) -> int:
        """Heads and sills of openings, cut from the same stud and laid flat."""
        return len(_across_openings(self.framing))

    def plan_of(self, face: Face) -> FacePlan | None:
        """The board plan of a face, None when it has no board or no plan could be made."""
        return next((plan for plan in self.face_plans if plan.face == face), None)

    def finished_area_mm2(self, face: Face) -> float:
        """Net area of a finished face in mm2; 0 when the face carries no board."""
        if not self.spec.face(face).layers:
            return 0.0
        return self.curve.net_area_mm2("left_finished" if face == "left" else "right_finished")


def survey_of(spec: WallSpec, materials: Mapping[str, Material]) -> Survey:
    """The survey of a wall, its stud depth and build-ups taken from the catalog where it does not say.

    spec: the wall. materials: by code. Returns the survey, lengths in mm. Raises SurveyError naming the entry
    when the stud's depth or a layer's thickness is not known: without them there is no wall to draw.
    """
    depth_mm = spec.stud_depth_mm
    if depth_mm is None:
        depth_mm = _figure(materials, spec.stud, "depth_mm", "stud", "stud depth")
    return Survey(
        spec.pieces,
        spec.heights,
        spec.measured_on,
        depth_mm,
        _build_up(spec, "left", materials),
        _build_up(spec, "right", materials),
        spec.openings,
    )


def _build_up(spec: WallSpec, face: Face, materials: Mapping[str, Material]) -> float:
    return sum(
        _figure(materials, layer.board, "thickness_mm", f"{face}.layers[{number}].board", "thickness")
        for number, layer in enumerate(spec.face(face).layers)
    )


def _figure(materials: Mapping[str, Material], code: str, name: str, field: str, what: str) -> float:
    material = materials.get(code)
    if material is None:
        raise SurveyError(field, f'material "{code}" is not in the catalog; add it there or choose another')
    fact = material.fact(name)
    if fact is None:
        raise SurveyError(field, f"{material.name} ({code}) states no {what}; enter it in the catalog")
    return fact.number


def work_up_wall(
    spec: WallSpec,
    book: Catalog,
    on_day: date,
    *,
    board_rounds: int | None = None,
    kept_faces: Sequence[KeptFace] = (),
) -> WallWorkUp:
    """Work one wall up.

    spec: as measured and as it is to be built. book: the catalog. on_day: the day at whose prices boards are
    chosen. board_rounds: of the search for a cheaper board plan (>= 0), None for the full search; 0 answers at
    once with a plan that keeps the same rules. kept_faces: of the board plan a person chose for the job; used where
    they still fit the face, and said where they do not. Returns the wall worked up.
    Raises SurveyError, its field under the wall's key, when the figures give no wall.
    """
    materials, system = book.materials, book.firm.display_units
    try:
        curve = curve_of(survey_of(spec, materials))
    except SurveyError as error:
        raise SurveyError(f"{spec.key}.{error.field}", error.reason) from error
    bend_checks = check_layers(curve, spec, materials, system)
    track_checks = check_track(curve, spec, materials, system)
    framing = frame(curve, spec, materials, book.standards, system)
    findings: list[Finding] = [
        *_missing_materials(spec, book),
        *bend_findings((*bend_checks, *track_checks)),
        *practice_notes(curve, spec, materials, system),
        *framing.findings,
        *_bulges(spec, curve, book),
        *_height_cautions(spec, curve, book),
        *_shape_cautions(spec, curve, book),
        *template_findings(curve, spec),
        *swapped_findings(spec, system),
    ]
    face_plans = _face_plans(spec, curve, framing, book, on_day, findings, board_rounds, kept_faces)
    if framing.is_complete:
        for plan in face_plans:
            framing = add_sheet_end_studs(framing, _sheet_ends(curve, plan), plan.face)
    trims = plan_trims(curve, spec, materials, system)
    for trim in trims:
        findings.extend(trim.findings)
    findings += overlaps(curve, spec, materials, system)
    arches, of_arches = arch_works(curve, spec, system)
    cased, of_casings = cased_openings(curve, spec, materials, system)
    casings = casing_quantities(cased, spec, system)
    findings += [*of_arches, *of_casings, *shape_notes(curve, spec, system)]
    bent: tuple[Bend, ...] = (*bend_checks, *track_checks, *(arc for trim in trims for arc in trim.arcs))
    bands = arc_bands(curve, spec, book.standards, system)
    checked = check_bands(bands, bent, system)
    baseline = _baseline(spec, system)
    findings += [*band_findings(bands, checked, bent), *(baseline.findings if baseline else ())]
    holds = holds_on(spec, materials)
    room = _in_the_room(spec, curve, book, findings)
    quantities: list[Quantity] = [
        *_track_quantities(spec, framing, book, on_day),
        *_stud_quantities(spec, framing, book),
        *_board_quantities(spec, curve, face_plans, book),
        *_trim_quantities(trims, curve, book),
        *casings,
    ]
    joints_mm = {plan.face: plan.tape_joint_mm for plan in face_plans}
    kit_items = finish(curve, framing, spec, materials, book.firm.kit, book.standards, joints_mm, trims, system)
    quantities += kit_items.items
    findings += kit_items.findings
    known = {
        *(entry.key for entry in bend_checks),
        *(entry.key for entry in track_checks),
        *(entry.key for entry in findings),
    }
    known |= {*(quantity.key for quantity in quantities), *(arc.key for trim in trims for arc in trim.arcs)}
    known |= {hold.finding.key for hold in holds}
    findings += _unknown_overrides(spec, known)
    return WallWorkUp(
        spec,
        curve,
        bend_checks,
        track_checks,
        framing,
        face_plans,
        trims,
        tuple(quantities),
        (*_stud_sticks(spec, framing), *_trim_sticks(spec, trims), *_cut_sticks(spec, quantities, materials, on_day)),
        tuple({finding.key: _decided(finding, spec) for finding in findings}.values()),
        bands,
        checked,
        baseline,
        holds,
        arches,
        track_pieces(framing.track, materials.get(spec.track), on_day),
        backing_lines(trims, materials),
        cased,
        casings,
        room,
    )


def _in_the_room(spec: WallSpec, curve: Curve, book: Catalog, findings: list[Finding]) -> RoomPlace | None:
    if spec.room is None:
        return None
    try:
        place = place_in_room(curve, spec.room, tape_of(spec, book.standards))
    except SurveyError as error:
        sentence = f"{spec.name} cannot be placed in the room: {error.reason}."
        findings.append(Finding(f"{spec.key}/room", "caution", sentence, "Plane geometry"))
        return None
    findings += room_findings(spec.key, spec.name, place, book.firm.display_units)
    return place


def _baseline(spec: WallSpec, system: System) -> OffsetsFit | None:
    """How far the pieces stand off the offsets they were fitted to, as they are now."""
    baseline = spec.taken.baseline
    known = tuple(piece for piece in spec.pieces if not isinstance(piece, TemplatePiece))
    if baseline is None or len(known) < len(spec.pieces):
        return None
    return off_pieces(
        baseline.offsets, baseline.tolerance_mm, known, baseline.start, baseline.heading_rad, spec.key, system
    )


def _decided(finding: Finding, spec: WallSpec) -> Finding:
    """Whatever asks for a decision has a way on: once a named person has taken it, it is said and no longer asked."""
    override = override_of(spec.overrides, finding.key)
    # A finding with a figure of its own has been held against what was decided where it was made.
    if finding.weight != "decide" or override is None or finding.compared is not None:
        return finding
    return replace(finding, weight="caution", sentence=finding.sentence + overridden(override))


def _unknown_overrides(spec: WallSpec, known: Collection[str]) -> Iterable[Finding]:
    """A decision whose matter is settled for now names something of the wall all the same."""
    settled = {
        f"{spec.key}/framing/piece-{n}/{of}" for n in range(1, len(spec.pieces) + 1) for of in ("spacing", "links")
    }
    of_trim = ("splices", "form", "grade", "release/template")
    settled |= {f"{spec.key}/trim-{n}/{of}" for n in range(1, len(spec.trims) + 1) for of in of_trim}
    settled.add(f"{spec.key}/{RISE_OVER_CHORD}")
    settled_under = tuple(f"{spec.key}/{face}/boards/" for face in FACES)
    settled_under += tuple(f"{spec.key}/trim-{n}/release/" for n in range(1, len(spec.trims) + 1))
    for override in spec.overrides:
        if override.key not in known and override.key not in settled and not override.key.startswith(settled_under):
            what = key_words(override.key, spec)
            sentence = f"An override names {what}, which this wall does not have: correct its key or remove it."
            yield Finding(f"{spec.key}/override/{override.key}", "caution", sentence)


def compared_figures(spec: WallSpec, materials: Mapping[str, Material], standards: Standards) -> dict[str, float]:
    """What a decision about each check of a wall is taken for, by the key of the check: its `original`.

    spec: the wall. materials: by code. standards: the firm's. Returns, to a hundredth, the radius compared in mm for
    a bend, whether it passes or not; for a stud spacing what `framing` compares; for splices their count. Empty when
    the figures give no wall.
    """
    try:
        curve = curve_of(survey_of(spec, materials))
    except SurveyError:
        return {}
    trims = plan_trims(curve, spec, materials)
    arcs = [arc for trim in trims for arc in trim.arcs]
    bends: list[Bend] = [*check_layers(curve, spec, materials), *arcs]
    bends += check_track(curve, spec, materials)
    figures = {bend.key: bend.radius_mm for bend in bends if bend.radius_mm > 0}
    findings = [
        *frame(curve, spec, materials, standards).findings,
        *(finding for trim in trims for finding in trim.findings),
    ]
    figures |= {finding.key: finding.compared for finding in findings if finding.compared is not None}
    return {key: round(figure, 2) for key, figure in figures.items()}


def with_compared(
    spec: WallSpec, before: Iterable[Override], materials: Mapping[str, Material], standards: Standards
) -> WallSpec:
    """The wall with every decision that is new said to be taken for the figures as they are now.

    spec: the wall with its decisions. before: those that stood already; they keep what they say. materials,
    standards: as the wall is judged by. Whatever figure a new decision about a check brings with it gives way.
    """
    before = tuple(before)
    if all(override in before for override in spec.overrides):
        return spec
    bare = replace(spec, overrides=())
    figures = compared_figures(bare, materials, standards)
    decided = (
        override if override in before else replace(override, original=figures.get(override.key, override.original))
        for override in spec.overrides
    )
    return replace(spec, overrides=tuple(decided))


def _missing_materials(spec: WallSpec, book: Catalog) -> Iterable[Finding]:
    wanted = [("track", spec.track, "track"), ("stud", spec.stud, "stud")]
    wanted += [(f"trim-{n}", trim.material, "trim") for n, trim in enumerate(spec.trims, 1)]
    cased = [(n, opening.casing) for n, opening in enumerate(spec.openings, 1) if opening.casing is not None]
    wanted += [(f"opening-{n}/casing-legs", casing.legs, "trim") for n, casing in cased]
    wanted += [(f"opening-{n}/casing-head", casing.head, "trim") for n, casing in cased if casing.head is not None]
    wanted += [(f"{f}/layer-{n}", x.board, "board") for f in FACES for n, x in enumerate(spec.face(f).layers, 1)]
    for key, code, kind in wanted:
        material = book.materials.get(code)
        if material is None:
            sentence = f'{spec.name}: material "{code}" is not in the catalog; add it there or choose another.'
            yield Finding(f"{spec.key}/{key}/material", "gap", sentence)
        elif material.kind != kind:
            sentence = f"{spec.name}: {material.name} ({code}) is kept as {material.kind}, but is used here as {kind}."
            yield Finding(f"{spec.key}/{key}/kind", "gap", sentence)


def _bulges(spec: WallSpec, curve: Curve, book: Catalog) -> Iterable[Finding]:
    for number, laid in enumerate(curve.openings, 1):
        if laid.bulge_mm >= BULGE_TO_SAY_MM:
            bulge = format_length(laid.bulge_mm, book.firm.display_units)
            sentence = (
                f"{laid.opening.name}: the wall bows {bulge} past its flat frame at mid-width; "
                "a flat jamb, casing or door stop must take that up."
            )
            source = "Plane geometry: the rise of the arc over the frame's width"
            yield Finding(f"{spec.key}/opening-{number}/bulge", "caution", sentence, source)


def _height_cautions(spec: WallSpec, curve: Curve, book: Catalog) -> Iterable[Finding]:
    """A height most likely typed in another unit than meant; a wall of that height is built all the same."""
    low, high = (book.standards.fact(f"{which}_wall_height_mm") for which in ("least", "greatest"))
    for height_mm, fact, way in ((curve.least_height_mm, low, "low"), (curve.greatest_height_mm, high, "high")):
        if fact is not None and (height_mm < fact.number if way == "low" else height_mm > fact.number):
            sentence = (
                f"{spec.name} is {format_both(height_mm)} high, {way}er than the {format_both(fact.number)} "
                "beyond which the firm asks: see that its height was entered in the unit meant."
            )
            yield Finding(f"{spec.key}/height/{way}", "caution", sentence, fact.source)
    yield from _limiting_height(spec, curve, book)


def _limiting_height(spec: WallSpec, curve: Curve, book: Catalog) -> Iterable[Finding]:
    """How high the stud may stand as the catalog states it; nothing is decided here."""
    stud, asks = book.materials.get(spec.stud), book.standards.fact("limiting_height_from_mm")
    limit = stud.fact("limiting_height_mm") if stud else None
    system, high_mm = book.firm.display_units, curve.greatest_height_mm
    defer = "local code and licensed practice decide"
    if stud is None:
        return
    if limit is not None and high_mm > limit.number + TOLERANCE_MM:
        sentence = (
            f"{spec.name} is {format_length(high_mm, system)} high, over the limiting height of {stud.name}, "
            f"{format_length(limit.number, system)}: {defer}. Take another stud, or have it confirmed."
        )
        yield Finding(f"{spec.key}/limiting-height", "caution", sentence, limit.source)
    elif limit is None and asks is not None and high_mm > asks.number + TOLERANCE_MM:
        sentence = (
            f"{spec.name} is {format_length(high_mm, system)} high and {stud.name} ({stud.code}) states no limiting "
            f"height: {defer}. Enter it in the catalog with its source."
        )
        yield Finding(f"{spec.key}/limiting-height", "caution", sentence, asks.source)


def _shape_cautions(spec: WallSpec, curve: Curve, book: Catalog) -> Iterable[Finding]:
    system = book.firm.display_units
    for joint in curve.kinks:
        if abs(joint.kink_rad) <= KINK_TO_SAY_RAD:
            continue
        left, right = (curve.mitre_mm(line, joint.kink_rad) for line in ("left_finished", "right_finished"))
        most = format_length(max(abs(left), abs(right)), system)
        shorter, longer = FACES if left < right else reversed(FACES)
        sentence = (
            f"{spec.name} kinks by {format_degrees(abs(joint.kink_rad))} degrees after piece "
            f"{joint.after_piece + 1}. To the mitre its {longer} face is up to {most} longer and its {shorter} face as "
            "much shorter than to the joint of the centrelines. Faces, boards, track and trim are bought to the mitre."
        )
        source = "Plane geometry: offset x tan(kink / 2) on each of the two pieces"
        yield Finding(f"{spec.key}/kink-{joint.after_piece + 1}", "note", sentence, source)
    crossing = crossing_of(curve)
    if crossing is not None:
        first, second = (format_length(place, system) for place in crossing)
        sentence = (
            f"{spec.name} crosses itself in plan, near {first} and {second} along its centreline: two parts of it "
            "would stand in one place. Check its turns, angles and lengths."
        )
        yield Finding(f"{spec.key}/crosses-itself", "caution", sentence, "Plane geometry of the outer faces")


def _sheet_ends(curve: Curve, plan: FacePlan) -> list[float]:
    length_mm = curve.centre_length_mm
    places = [place % length_mm if curve.is_closed else place for place in plan.joints_along_mm]
    return sorted(min(max(place, 0.0), length_mm) for place in places)


def _face_plans(
    spec: WallSpec,
    curve: Curve,
    framing: Framing,
    book: Catalog,
    on_day: date,
    findings: list[Finding],
    board_rounds: int | None,
    kept_faces: Sequence[KeptFace],
) -> tuple[FacePlan, ...]:
    if not framing.is_complete:
        return ()
    plans = []
    for face in FACES:
        layers = _board_layers(spec, face, book, on_day, findings)
        if not layers or len(layers) != len(spec.face(face).layers):
            continue
        chosen = next((plan for plan in kept_faces if plan.face == face), None)
        try:
            plan = _kept_face(spec, curve, framing, book, layers, chosen, findings) if chosen else None
            if plan is None:
                plan = plan_face(
                    curve,
                    face,
                    layers,
                    framing.stud_positions_mm,
                    book.standards,
                    key=spec.key,
                    rounds=board_rounds,
                    system=book.firm.display_units,
                )
        except BoardError as error:
            findings.append(Finding(f"{spec.key}/{face}/boards", "gap", f"{spec.name}, {face} face: {error.reason}."))
            continue
        # A missing price is told once, by the purchase that needs it.
        findings.extend(finding for finding in plan.findings if "/price/" not in finding.key)
        plans.append(plan)
    return tuple(plans)


def _kept_face(
    spec: WallSpec,
    curve: Curve,
    framing: Framing,
    book: Catalog,
    layers: Sequence[BoardLayer],
    chosen: KeptFace,
    findings: list[Finding],
) -> FacePlan | None:
    """The face hung as the plan a person chose has it; None, and a caution, when that plan is not of this face."""
    studs = framing.stud_positions_mm
    about = f"{spec.name}, {chosen.face} face: the board plan chosen for the job"
    source = "Own rule: a plan is used only for what it was made for"
    if chosen.mark != face_mark(curve, chosen.face, layers, studs, book.standards):
        sentence = (
            f"{about} is out of date: the wall, its studs, its boards or their prices have changed since. "
            "The quick plan is used instead; look for a better plan again."
        )
        findings.append(Finding(f"{spec.key}/{chosen.face}/boards/kept-plan", "caution", sentence, source))
        return None
    system = book.firm.display_units
    laid = lay_out_face(curve, chosen.face, layers, studs, book.standards, key=spec.key, system=system)
    plan, faults = face_by_kept(laid, chosen, curve, studs, book.standards) if laid else (None, ())
    if plan is None or faults:
        why = "; ".join(fault.sentence for fault in faults[:3]) or "its joints do not fit the face"
        sentence = f"{about} does not pass the independent check ({why}). The quick plan is used instead."
        findings.append(Finding(f"{spec.key}/{chosen.face}/boards/kept-plan", "caution", sentence, source))
        return None
    return plan


def faces_to_prove(
    walls: Sequence[WallWorkUp], book: Catalog, on_day: date
) -> tuple[dict[tuple[str, Face], str], list[LaidFace]]:
    """What a better board plan of a job is looked for from.

    walls: worked up, each with its own key. book: the catalog. on_day: the day whose prices hold.
    Returns the mark of every face that carries boards, by wall and face, and the faces laid out; faces whose boards
    cannot be planned are left out. Raises BoardError as `jobs.core.boards.boards.lay_out_face`.
    """
    marks: dict[tuple[str, Face], str] = {}
    faces = []
    for wall in walls:
        # As they stood when the boards were planned: the flat studs behind sheet ends came after.
        studs = tuple(sorted({station.along_mm for station in wall.framing.stations if station.kind != "sheet_end"}))
        for plan in wall.face_plans:
            layers = _board_layers(wall.spec, plan.face, book, on_day, [])
            laid = lay_out_face(wall.curve, plan.face, layers, studs, book.standards, key=wall.spec.key)
            if laid is not None:
                marks[wall.spec.key, plan.face] = face_mark(wall.curve, plan.face, layers, studs, book.standards)
                faces.append(laid)
    return marks, faces


def _board_layers(spec: WallSpec, face: Face, book: Catalog, on_day: date, findings: list[Finding]) -> list[BoardLayer]:
    layers = []
    for number, layer in enumerate(spec.face(face).layers, 1):
        material = book.materials.get(layer.board)
        if material is None or material.kind != "board":
            continue
        sheets = _sheets(material, on_day)
        thickness = material.fact("thickness_mm")
        if not sheets or thickness is None:
            sentence = f"{material.name} ({material.code}) states no sheet size; enter the length and width of a pack."
            findings.append(Finding(f"{spec.key}/{face}/layer-{number}/sheets", "gap", sentence))
            continue
        layers.append(BoardLayer(material.code, thickness.number, layer.direction, sheets))
    return layers


def _sheets(material: Material, on_day: date) -> tuple[Sheet, ...]:
    """Sheets to plan with: those with a price where any has one, else all of them, planned by area."""
    packs = [p for p in material.packs if p.length_mm is not None and p.width_mm is not None]
    priced = [pack for pack in packs if pack.price_on(on_day) is not None]
    sheets = []
    for pack in priced or packs:
        price, sides = pack.price_on(on_day), (pack.length_mm or 0.0, pack.width_mm or 0.0)
        sheets.append(Sheet(pack.code, max(sides), min(sides), price.amount if price else None))
    return tuple(sheets)


def _track_quantities(spec: WallSpec, framing: Framing, book: Catalog, on_day: date) -> Iterable[Quantity]:
    system = book.firm.display_units
    pieces = track_pieces(framing.track, book.materials.get(spec.track), on_day)
    unknown = _to_template(framing.curve)
    names = {
        "top": "Top track",
        "bottom": "Bottom track, cut out at openings that reach the floor",
    }
    for kind, label in names.items():
        runs = [run for run in framing.track if run.kind == kind]
        total_mm = sum(run.length_mm for run in runs)
        if not total_mm:
            continue
        lapped_mm = laps_mm(framing.track, pieces, runs[0].kind)
        laps = (("Laps at splices", format_length(lapped_mm, system)),) if lapped_mm > TOLERANCE_MM else ()
        total_mm += lapped_mm
        why = Explanation(
            "Length along the convex framing edge, where links open: the longer edge is what is bought",
            (*((run.name or label, format_length(run.length_mm, system)) for run in runs), *laps, *unknown),
            "Trade practice; radius x sweep of the framing face",
        )
        yield Quantity(f"{spec.key}/track/{kind}", label, total_mm, "mm", why, spec.track)


def _stud_quantities(spec: WallSpec, framing: Framing, book: Catalog) -> Iterable[Quantity]:
    groups = framing.stud_list
    if not groups:
        return
    across = _across_openings(framing)
    system = book.firm.display_units
    why = Explanation(
        "A stud at each end, change of piece, bay; jambs, cripples, a flat stud at each sheet end; flat heads and "
        "sills; all cut short",
        (
            ("Stations before openings", str(framing.base_station_count)),
            *((f"{group.count} x", format_length(group.length_mm, system)) for group in groups),
            *((f"{run.kind.capitalize()} of {run.name}", format_length(run.length_mm, system)) for run in across),
        ),
        "Stations: ceil(length / spacing) + 1 on an open run, our convention; cut and sheet-end studs: common practice",
    )
    total_mm = sum(group.length_mm * group.count for group in groups) + sum(run.length_mm for run in across)
    flat = f" and {len(across)} laid flat" if across else ""
    label = f"Studs, {framing.member_count}{flat}"
    yield Quantity(f"{spec.key}/studs", label, total_mm, "mm", why, spec.stud)


def _across_openings(framing: Framing) -> list[TrackRun]:
    """Heads and sills of openings: straight members, cut from the stud and laid flat. Our own convention."""
    return [run for run in framing.track if run.kind in ("head", "sill")]


def _board_quantities(spec: WallSpec, curve: Curve, plans: Iterable[FacePlan], book: Catalog) -> Iterable[Quantity]:
    system = book.firm.display_units
    unknown = _to_template(curve)
    for plan in plans:
        for layer in plan.layers:
            why = Explanation(
                "Area of the layer developed on the longer of its two surfaces, less openings, mitred at kinks",
                (
                    ("Developed length", format_length(layer.developed_mm, system)),
                    ("Courses", str(len(layer.courses))),
                    ("Boards hung", str(len(layer.pieces))),
                    *unknown,
                ),
                f"{'Board plan chosen for the job' if plan.is_chosen else 'Heuristic board plan'}: joints on studs, "
                "none shared by neighbouring courses or layers",
            )
            label = f"Board, {plan.face} face, layer {layer.number}"
            key = f"{spec.key}/{plan.face}/layer-{layer.number}/board"
            yield Quantity(key, label, layer.net_area_mm2 / 1e6, "sqm", why, layer.board, plan.face)


def _trim_quantities(trims: Iterable[TrimPlan], curve: Curve, book: Catalog) -> Iterable[Quantity]:
    system = book.firm.display_units
    for trim in trims:
        if not trim.face_length_mm:
            continue  # a cap that cannot be laid yet; what is missing is told
        mitred_mm = trim.mitred_mm
        gained = f"{'-' if mitred_mm < 0 else ''}{format_length(abs(mitred_mm), system)}"
        why = Explanation(
            "Length of the longer edge of the cap on each piece of the wall, less openings up to the top, plus returns"
            if trim.cap
            else "Length of the finished face at the back of the trim, less openings in its way, plus returns",
            (
                ("Finished face", format_length(trim.face_length_mm, system)),
                ("Taken by openings", format_length(trim.taken_mm, system)),
                ("Returns", format_length(trim.returns_mm, system)),
                *((("Gained at mitres", gained),) if abs(mitred_mm) > TOLERANCE_MM else ()),
                *(("Piece to order", format_length(piece.ordered_mm, system)) for piece in trim.pieces),
                *_to_template(curve),
            ),
            "Radius x sweep of the finished face; pieces by the maker's length rules",
        )
        yield Quantity(trim.key, trim.run.name, trim.net_mm, "mm", why, trim.run.material, trim.run.face)


def _to_template(curve: Curve) -> tuple[tuple[str, str], ...]:
    """Said in every length or area that has a piece built to a template in it."""
    pieces = [piece for piece in curve.pieces if piece.is_template]
    return tuple((f"Piece {piece.index + 1}", "to a template only: as taped, its bend not checked") for piece in pieces)


def _cut_sticks(
    spec: WallSpec, quantities: Iterable[Quantity], materials: Mapping[str, Material], on_day: date
) -> Iterable[StickPiece]:
    """Casing, bead, backing and track round arches as they are cut; what no stick holds is spliced, casing never."""
    for quantity in quantities:
        material = materials.get(quantity.material or "")
        if material is None:
            continue
        cut: Counter[tuple[float, bool]] = Counter()
        for length_mm in quantity.pieces_mm:
            parts = () if material.kind == "trim" else spliced_mm(length_mm, material, on_day)
            cut.update((part, len(parts) > 1) for part in parts or (length_mm,))
        for (length_mm, is_spliced), count in cut.items():
            label = f"{spec.name} {quantity.label}"
            yield StickPiece(spec.key, material.code, label, length_mm, count, is_spliced)


def _stud_sticks(spec: WallSpec, framing: Framing) -> Iterable[StickPiece]:
    for group in framing.stud_list:
        yield StickPiece(spec.key, spec.stud, f"{spec.name} stud", group.length_mm, group.count)
    for run in _across_openings(framing):
        yield StickPiece(spec.key, spec.stud, f"{spec.name} {run.kind} of {run.name}", run.length_mm)


def _trim_sticks(spec: WallSpec, trims: Iterable[TrimPlan]) -> Iterable[StickPiece]:
    for trim in trims:
        for piece in trim.pieces:
            yield StickPiece(spec.key, trim.run.material, f"{spec.name} {trim.run.name}", piece.ordered_mm)
