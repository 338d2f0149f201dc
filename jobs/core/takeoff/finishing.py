"""Fasteners, joint treatment, bead, paint, water, insulation and backing: net quantities of one wall.

Every quantity is net: waste and packs come later. Every rate is a figure of a material or of the firm's
standards; one that is missing is a gap and its quantity is left out.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from catalog.core.ground.units import (
    TOLERANCE_MM,
    System,
    format_area,
    format_measure,
    format_water,
    sqft_from_mm2,
    sqm_from_mm2,
)
from catalog.core.materials.specs import ROLES, Fact, Material
from catalog.core.materials.standards import STANDARD_SPECS, Standards
from jobs.core.framing.edge_radius_check import CurvedEdge, arch_edges, reaches_top, too_tight, top_edges
from jobs.core.framing.framing import Framing, framing_screws, track_fasteners
from jobs.core.measure.curve import FACES, Curve, Face, curve_of
from jobs.core.measure.explanation import Explanation, Quantity
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import HeightProfile, Line, StraightPiece, Survey
from jobs.core.measure.wall_spec import End, FaceBuild, WallSpec
from jobs.core.takeoff.screws import (
    STEEL_SOURCE,
    ends_in_track,
    screws_on_a_line,
    shortest_that_reaches,
    steel_of,
    suits,
    thickest,
    unknown_steel,
    wrong_screw,
)
from jobs.core.trim.trim import TrimPlan

DRY_WITHIN_SOURCE = "Gypsum Association GA-226-08"
LEVEL_SOURCE = "Levels 0 to 5: GA-214"


@dataclass(frozen=True)
class Quantities:
    """What a wall needs besides members, board and trim: each explained, and what is missing."""

    items: tuple[Quantity, ...]
    findings: tuple[Finding, ...]

    def total(self, material: str) -> float:
        """The sum of the quantities of one material, in the unit they state; 0 when there is none."""
        return sum(item.value for item in self.items if item.material == material)


def finish(
    curve: Curve,
    framing: Framing,
    wall: WallSpec,
    materials: Mapping[str, Material],
    kit: Mapping[str, Sequence[str]],
    standards: Standards,
    joint_length_mm: Mapping[Face, float],
    trims: Sequence[TrimPlan] = (),
    system: System = "imperial",
) -> Quantities:
    """Count everything the firm's kit supplies to one wall.

    Args:
        curve: the wall in plan.
        framing: its stations and track, sheet-end studs included when they are wanted.
        wall: layers, levels and paint of each face; its own kit goes before the firm's, role by role.
        materials: the catalog by code.
        kit: role (a key of `ROLES`) to material codes; several only for "board_screw".
        standards: the firm's spacings, coats and factors.
        joint_length_mm: of each face, the joints of its outermost layer, mm, >= 0, without corners.
        trims: plans whose backing is to be let in.
        system: the units of the sentences and explanations.

    Returns:
        Net quantities in each, mm, sqm, gal or l, and a finding for every figure or material missing.

    Raises:
        ValueError: a joint length that is not a finite number of zero or more.

    Source: the rules are stated at each function below, the rates by the facts and standards read.

    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.framing.framing import frame
    >>> curve, wall = _example()
    >>> framing = frame(curve, wall, {}, starter_standards())
    >>> done = finish(curve, framing, wall, {}, {}, starter_standards(), {"left": 0.0, "right": 0.0})
    >>> done.items, {finding.weight for finding in done.findings}
    ((), {'gap'})
    """
    for face, length_mm in joint_length_mm.items():
        if not (math.isfinite(length_mm) and length_mm >= 0):
            raise ValueError(f"the joints of the {face} face must be zero or more long, not {length_mm:g} mm")
    tally = _Tally(wall, materials, kit, standards, system)
    _count_framing(tally, framing)
    _count_arch_track(tally, curve)
    for face in FACES:
        if not wall.face(face).layers:
            continue
        _count_board_screws(tally, framing, face)
        _count_tape_and_compound(tally, curve, face, joint_length_mm.get(face))
        _count_bead(tally, curve, face)
        _count_paint(tally, curve, face)
        _count_water(tally, curve, face)
    _note_untaped(tally, curve)
    _count_insulation(tally, curve)
    for plan in trims:
        _count_backing(tally, plan)
    return Quantities(tuple(tally.items), tuple(tally.findings.values()))


def _example() -> tuple[Curve, WallSpec]:
    pieces, heights = (StraightPiece(2438.4),), HeightProfile(((0.0, 2438.4),))
    bare = FaceBuild(())
    wall = WallSpec("w", "Wall", "centre", pieces, heights, "T", "S", bare, bare)
    return curve_of(Survey(pieces, heights, "centre", 92.075, 0.0, 0.0)), wall


class _Tally:
    """Collects quantities and, once each, what is missing."""

    def __init__(
        self,
        wall: WallSpec,
        materials: Mapping[str, Material],
        kit: Mapping[str, Sequence[str]],
        standards: Standards,
        system: System,
    ) -> None:
        self.wall = wall
        self.system = system
        self.materials = materials
        self.kit = kit
        self.standards = standards
        self.items: list[Quantity] = []
        self.findings: dict[str, Finding] = {}

    def gap(self, key: str, sentence: str) -> None:
        self.findings.setdefault(key, Finding(f"{self.wall.key}/{key}", "gap", sentence))

    def length(self, length_mm: float, places: int = 2) -> str:
        return format_measure(length_mm, self.system, places)

    def area(self, area_mm2: float) -> str:
        return format_area(area_mm2, self.system)

    def choices(self, role: str) -> list[Material]:
        codes = self.wall.kit.get(role) or self.kit.get(role) or ()
        label = ROLES[role][1]
        if not codes:
            self.gap(f"kit/{role}", f"The kit names no material for {role} ({label}): choose one.")
        chosen = []
        for code in codes:
            material = self.materials.get(code)
            if material is None:
                self.gap(f"kit/{role}/{code}", f"{label}: {code} is not in the catalog; add it.")
            elif material.kind != ROLES[role][0]:
                wrong = f"{label}: {code} is a {material.kind}, but {role} must be a {ROLES[role][0]}."
                self.gap(f"kit/{role}/{code}", wrong)
            else:
                chosen.append(material)
        return chosen

    def material(self, role: str) -> Material | None:
        chosen = self.choices(role)
        return chosen[0] if chosen else None

    def steel_parts(self, names: Sequence[str]) -> list[tuple[str, Material]]:
        """The steel that screws pass, by name; what is not in the catalog is missing elsewhere."""
        arch = self.material("arch_track") if "arch-track" in names else None
        codes = {"track": self.wall.track, "stud": self.wall.stud, "arch-track": arch.code if arch else ""}
        parts = [(name, self.materials[codes[name]]) for name in names if codes[name] in self.materials]
        for finding in unknown_steel(self.wall.key, parts):
            self.findings.setdefault(finding.key, finding)
        return parts

    def standard(self, name: str) -> Fact | None:
        fact = self.standards.fact(name)
        if fact is None:
            label = STANDARD_SPECS[name].label
            self.gap(f"standard/{name}", f"The firm's standard {name} ({label}) is missing: fill it in.")
        return fact

    def fact(self, material: Material, name: str) -> Fact | None:
        fact = material.fact(name)
        if fact is None:
            sentence = f"{material.name} ({material.code}) states no {name}: fill it in before it can be counted."
            self.gap(f"material/{material.code}/{name}", sentence)
        return fact

    def add(
        self,
        key: str,
        label: str,
        value: float,
        unit: str,
        explanation: Explanation,
        material: Material | None,
        face: Face | None = None,
        pieces_mm: Sequence[float] = (),
    ) -> None:
        if value > 0:
            code = material.code if material else None
            whole_key = f"{self.wall.key}/{face}/{key}" if face else f"{self.wall.key}/{key}"
            self.items.append(Quantity(whole_key, label, value, unit, explanation, code, face, tuple(pieces_mm)))


def _finished(face: Face) -> Line:
    return "left_finished" if face == "left" else "right_finished"


def _framing(face: Face) -> Line:
    return "left_framing" if face == "left" else "right_framing"


def _count_framing(tally: _Tally, framing: Framing) -> None:
    for role in ("framing_screw", "track_fastener"):
        material = tally.material(role)
        if material is None:
            continue
        if role == "framing_screw":
            _check_framing_screw(tally, framing, material)
            counted = framing_screws(framing, tally.standards, material.code)
        else:
            counted = track_fasteners(framing, tally.standards, material.code, tally.system)
        if isinstance(counted, Finding):
            tally.findings.setdefault(counted.key, counted)
        elif counted.value > 0:
            tally.items.append(counted)


def _check_framing_screw(tally: _Tally, framing: Framing, screw: Material) -> None:
    arched = any(run.kind == "arch" for run in framing.track)
    parts = tally.steel_parts(("track", "stud", *(("arch-track",) if arched else ())))
    part = thickest(material for _, material in parts)
    if part is not None and not suits(screw, steel_of(part)):
        key = f"{tally.wall.key}/framing_screw/steel"
        finding = wrong_screw(key, "The screws of the framing", screw, part, tally.materials)
        tally.findings.setdefault(key, finding)


def _count_board_screws(tally: _Tally, framing: Framing, face: Face) -> None:
    layers = tally.wall.face(face).layers
    if not framing.is_complete:
        sentence = "The screws of the board cannot be counted before the studs are set out."
        tally.gap("board_screw/stations", sentence)
        return
    stations = [station for station in framing.stations if station.face in (None, face)]
    screws = tally.choices("board_screw")
    for screw in screws:
        tally.fact(screw, "screw_length_mm")
    penetration = tally.standard("screw_penetration_mm")
    through_mm: float | None = 0.0
    for number, layer in enumerate(layers, start=1):
        board = tally.materials.get(layer.board)
        thickness = tally.fact(board, "thickness_mm") if board else None
        if board is None:
            tally.gap(f"board/{layer.board}", f"{layer.board} is not in the catalog; add it with its thickness.")
        through_mm = through_mm + thickness.number if through_mm is not None and thickness else None
        outermost = number == len(layers)
        spacing = tally.standard("face_layer_screw_spacing_mm" if outermost else "base_layer_screw_spacing_mm")
        if through_mm is None or penetration is None or spacing is None or not screws:
            continue
        counts = [screws_on_a_line(station.clear_mm, spacing.number) for station in stations]
        at_track = [
            min(count, ends_in_track(framing, station)) for count, station in zip(counts, stations, strict=True)
        ]
        _add_board_screws(
            tally, face, number, screws, (through_mm, penetration, spacing), (sum(counts), sum(at_track), len(stations))
        )


def _add_board_screws(
    tally: _Tally,
    face: Face,
    number: int,
    screws: Sequence[Material],
    rule: tuple[float, Fact, Fact],
    counted: tuple[int, int, int],
) -> None:
    """rule: through the layers in mm, the penetration and the spacing. counted: all, those at the track, the lines."""
    (through_mm, penetration, spacing), (count, at_track, lines) = rule, counted
    needed_mm = through_mm + penetration.number
    longest = shortest_that_reaches(screws, needed_mm)
    if longest is None:
        sentence = (
            f"{face.capitalize()} face, layer {number}: no screw of the kit is "
            f"{tally.length(needed_mm)} long; add a longer one to board_screw."
        )
        tally.gap(f"{face}/layer-{number}/board_screw", sentence)
        return
    of_stud = _screw_for(tally, screws, needed_mm, ("stud",), "The board screws", "board_screw/steel")
    field = of_stud or longest
    at_the_track = (("track", "stud"), "The board screws at the track", "board_screw/track/steel")
    tracked = _screw_for(tally, screws, needed_mm, *at_the_track) if of_stud else None
    split = tracked is not None and tracked.code != field.code
    label = f"Screws, {face} face, layer {number}"
    explanation = Explanation(
        "on each stud line, board height / screw spacing, rounded up, plus one; the shortest screw that goes "
        "through the layers into the steel",
        (
            ("stud lines", str(lines)),
            ("screw spacing", tally.length(spacing.number)),
            ("through the layers", tally.length(through_mm, 3)),
            ("into the steel", tally.length(penetration.number, 3)),
            *((("less those at the track", str(at_track)),) if split else ()),
        ),
        f"{spacing.source}; {penetration.source}",
    )
    key = f"layer-{number}/board_screw"
    tally.add(key, label, float(count - at_track if split else count), "each", explanation, field, face)
    if split and tracked is not None:
        why = Explanation(
            "those that pass the track too: both ends of a whole stud, one end of a cripple, on each layer",
            (("stud lines", str(lines)), ("at the track", str(at_track))),
            f"{STEEL_SOURCE}; that the thickest part governs is our own convention",
        )
        tally.add(
            f"layer-{number}/track/board_screw", f"{label}, at the track", float(at_track), "each", why, tracked, face
        )


def _screw_for(
    tally: _Tally, screws: Sequence[Material], needed_mm: float, names: Sequence[str], what: str, key: str
) -> Material | None:
    """The shortest screw that reaches and is for the steel it passes; None, and a caution, where the kit has none."""
    part = thickest(material for _, material in tally.steel_parts(names))
    right = shortest_that_reaches([screw for screw in screws if suits(screw, steel_of(part))], needed_mm)
    taken = shortest_that_reaches(screws, needed_mm)
    if right is None and part is not None and taken is not None:
        finding = wrong_screw(f"{tally.wall.key}/{key}", what, taken, part, tally.materials, needed_mm)
        tally.findings.setdefault(key, finding)
    return right


def _corners_mm(curve: Curve, face: Face, inside: bool) -> list[float]:
    # A kink towards a face is an inside corner of that face, taped; away from it an outside one, beaded.
    heights = []
    for joint in curve.joints:
        towards = (joint.kink_rad > 0) == (face == "left")
        if abs(joint.kink_rad) > 1e-6 and towards == inside:
            heights.append(curve.heights.at(joint.at_mm))
    return heights


def _count_tape_and_compound(tally: _Tally, curve: Curve, face: Face, joints_mm: float | None) -> None:
    level = tally.wall.face(face).level
    if level == 0:
        return
    if joints_mm is None:
        sentence = f"The joints of the {face} face have not been planned: its tape cannot be measured."
        tally.gap(f"{face}/tape", sentence)
    tape = tally.material("tape")
    if tape is not None and joints_mm is not None:
        corners_mm = sum(_corners_mm(curve, face, inside=True))
        ends_mm, top_mm = sum(_ends_mm(tally.wall, curve, "meets")), _ceiling_joint_mm(tally.wall, curve, face)
        explanation = Explanation(
            "joints of the outermost layer + inside corners at kinks + ends that meet a wall + the joint with a "
            "ceiling of board",
            (
                ("joints of the boards", tally.length(joints_mm)),
                ("inside corners at kinks", tally.length(corners_mm)),
                ("ends that meet a wall", tally.length(ends_mm)),
                ("joint with the ceiling", tally.length(top_mm)),
            ),
            f"{LEVEL_SOURCE}: joints and inside corners are taped from level 1",
        )
        taped_mm = joints_mm + corners_mm + ends_mm + top_mm
        tally.add("tape", f"Tape, {face} face", taped_mm, "mm", explanation, tape, face)
    compound = tally.material("compound")
    rate = tally.fact(compound, "gal_per_1000sqft") if compound else None
    factor = tally.standard("compound_level_5_factor") if level == 5 else None
    if compound is None or rate is None or (level == 5 and factor is None):
        return
    area_mm2 = curve.net_area_mm2(_finished(face))
    gallons = sqft_from_mm2(area_mm2) / 1000 * rate.number * (factor.number if factor else 1.0)
    inputs = [("net area", tally.area(area_mm2)), ("rate", f"{rate.value} gal per 1,000 sq ft")]
    rule, source = "net finished area x rate", f"{rate.source}; {LEVEL_SOURCE}"
    if factor:
        rule = "net finished area x rate x factor for the skim coat of level 5"
        inputs.append(("skim coat factor", f"{factor.value}"))
        source = f"{source}; {factor.source}"
    elif level < 4:
        rule += f"; no share is published for level {level}, so the full rate is taken"
    explanation = Explanation(rule, tuple(inputs), source)
    tally.add("compound", f"Compound, {face} face, level {level}", gallons, "gal", explanation, compound, face)


def _count_bead(tally: _Tally, curve: Curve, face: Face) -> None:
    if tally.wall.face(face).level == 0:
        return
    lengths_mm: list[float] = []
    for laid in curve.openings:
        jamb_mm = laid.opening.spring_mm - laid.opening.sill_mm
        lengths_mm += [jamb_mm, jamb_mm] if jamb_mm > TOLERANCE_MM else []
        below_ceiling = curve.heights.least_between(*laid.span_mm) - laid.opening.head_mm > TOLERANCE_MM
        if below_ceiling and not laid.opening.is_arched:
            lengths_mm.append(laid.taken_mm[_finished(face)])
    opening_mm = sum(lengths_mm)
    ends_mm = _ends_mm(tally.wall, curve, "free")
    corners_mm = _corners_mm(curve, face, inside=False)
    curved, top_mm = top_edges(curve, tally.wall, face)
    lengths_mm += ends_mm + corners_mm + ([top_mm] if top_mm > TOLERANCE_MM else [])
    _count_flexible_bead(tally, face, (*arch_edges(curve), *curved))
    if not lengths_mm:
        return
    bead = tally.material("bead")
    explanation = Explanation(
        "jambs and level heads of openings + free ends + outside corners at kinks + the straight of a free top; "
        "none at sills",
        (
            ("jambs and heads", tally.length(opening_mm)),
            ("free ends", tally.length(sum(ends_mm))),
            ("outside corners", tally.length(sum(corners_mm))),
            *((("free top, straight", tally.length(top_mm)),) if top_mm else ()),
        ),
        "Our own convention",
    )
    if bead is not None:
        tally.add("bead", f"Bead, {face} face", sum(lengths_mm), "mm", explanation, bead, face, lengths_mm)
    _count_bead_fasteners(tally, face, lengths_mm, "bead_fastener", "Fasteners for bead")


def _ends_mm(wall: WallSpec, curve: Curve, meeting: End) -> list[float]:
    """The heights of the ends that meet what is asked; a closed wall has no ends."""
    if curve.is_closed:
        return []
    ends = ((wall.ends.start, 0.0), (wall.ends.end, curve.centre_length_mm))
    return [curve.heights.at(along_mm) for end, along_mm in ends if end == meeting]


def _ceiling_joint_mm(wall: WallSpec, curve: Curve, face: Face) -> float:
    """The joint of a face with a ceiling of board, along slopes and steps; openings up to it are left out."""
    if wall.top != "ceiling":
        return 0.0
    line = _finished(face)
    cut_mm = sum(
        laid.taken_mm[line] for laid in curve.openings if reaches_top(curve, laid.span_mm, laid.opening.head_mm)
    )
    return max(0.0, curve.top_edge_mm(line, 0.0, curve.centre_length_mm) + curve.top_steps_mm - cut_mm)


def _note_untaped(tally: _Tally, curve: Curve) -> None:
    wall, places = tally.wall, []
    if not curve.is_closed:
        places = [
            f"the {name}" for name, end in (("start", wall.ends.start), ("end", wall.ends.end)) if end == "column"
        ]
    places += ["the top"] if wall.top == "deck" else []
    if places and any(wall.face(face).layers for face in FACES):
        sentence = f"Neither tape nor bead is counted at {' and '.join(places)}: add what that joint takes."
        tally.findings.setdefault("untaped", Finding(f"{wall.key}/untaped", "note", sentence, "Our own convention"))


def _count_flexible_bead(tally: _Tally, face: Face, edges: Sequence[CurvedEdge]) -> None:
    if not edges:
        return
    lengths_mm = [edge.length_mm for edge in edges]
    bead = tally.material("flexible_bead")
    if bead is not None:
        for finding in too_tight(edges, bead, tally.wall.key, "bead", tally.system):
            tally.findings.setdefault(finding.key, finding)
        shown = tuple((edge.where, tally.length(edge.length_mm)) for edge in edges)
        why = Explanation(
            "arches of openings and the curved part of a free top: radius x sweep", shown, "Plane geometry"
        )
        label = f"Flexible bead, {face} face"
        tally.add("flexible_bead", label, sum(lengths_mm), "mm", why, bead, face, lengths_mm)
    _count_bead_fasteners(tally, face, lengths_mm, "flexible_bead_fastener", "Fasteners for flexible bead")


def _count_bead_fasteners(tally: _Tally, face: Face, lengths_mm: Sequence[float], key: str, label: str) -> None:
    fastener, spacing = tally.material("bead_fastener"), tally.standard("bead_fastener_spacing_mm")
    if fastener is None or spacing is None:
        return
    count = sum(screws_on_a_line(length_mm, spacing.number) for length_mm in lengths_mm)
    why = Explanation(
        "on each length of bead, length / spacing, rounded up, plus one",
        (("lengths of bead", str(len(lengths_mm))), ("spacing", tally.length(spacing.number))),
        spacing.source,
    )
    tally.add(key, f"{label}, {face} face", float(count), "each", why, fastener, face)


def _count_arch_track(tally: _Tally, curve: Curve) -> None:
    edges = arch_edges(curve)
    track = tally.material("arch_track") if edges else None
    if track is None:
        return
    for finding in too_tight(edges, track, tally.wall.key, "track", tally.system):
        tally.findings.setdefault(finding.key, finding)
    shown = tuple((edge.where, tally.length(edge.length_mm)) for edge in edges)
    why = Explanation("length of each arch, which the cripples over it stand on", shown, "Radius x sweep of the arch")
    lengths_mm = [edge.length_mm for edge in edges]
    tally.add("track/arch", "Track round arched heads", sum(lengths_mm), "mm", why, track, pieces_mm=lengths_mm)


def _count_paint(tally: _Tally, curve: Curve, face: Face) -> None:
    if not tally.wall.face(face).painted:
        return
    area_mm2 = curve.net_area_mm2(_finished(face))
    for role, standard in (("primer", "primer_coats"), ("paint", "paint_coats")):
        coats = tally.standard(standard)
        if coats is not None and coats.number == 0:
            continue
        material = tally.material(role)
        coverage = tally.fact(material, "sqft_per_gal") if material else None
        if material is None or coats is None or coverage is None:
            continue
        gallons = sqft_from_mm2(area_mm2) * coats.number / coverage.number
        explanation = Explanation(
            "net finished area x coats / coverage of one coat",
            (
                ("net area", tally.area(area_mm2)),
                ("coats", f"{coats.value}"),
                ("coverage", f"{coverage.value} sq ft/gal"),
            ),
            f"{coats.source}; {coverage.source}",
        )
        tally.add(role, f"{role.capitalize()}, {face} face", gallons, "gal", explanation, material, face)


def _count_water(tally: _Tally, curve: Curve, face: Face) -> None:
    area_mm2 = _arc_area_mm2(curve, _framing(face))
    if area_mm2 <= 0:
        return
    for number, layer in enumerate(tally.wall.face(face).layers, start=1):
        board = tally.materials.get(layer.board)
        if layer.moisture != "damp" or board is None:
            continue
        rate = tally.fact(board, "damp_water_l_per_m2")
        if rate is None:
            continue
        litres = sqm_from_mm2(area_mm2) * rate.number
        explanation = Explanation(
            "net area of the arcs on the framing face x water sprayed per area; spray the side in tension",
            (("net area of the arcs", tally.area(area_mm2)), ("water", format_water(rate.number, tally.system))),
            rate.source,
        )
        label = f"Water for damp bending, {face} face, layer {number}"
        tally.add(f"layer-{number}/water", label, litres, "l", explanation, None, face)
        sentence = (
            f"Damp bending of the {face} face, layer {number}: spray about {litres:.1f} l of water on the side in "
            "tension. The board must be dry within 24 h."
        )
        key = f"{face}/layer-{number}/damp"
        source = f"{rate.source}; drying: {DRY_WITHIN_SOURCE}"
        tally.findings.setdefault(key, Finding(f"{tally.wall.key}/{key}", "note", sentence, source))


def _arc_area_mm2(curve: Curve, line: Line) -> float:
    offset_mm = curve.offset_mm(line)
    arcs = [piece for piece in curve.pieces if piece.is_arc]
    gross = sum(p.length_at(offset_mm) * curve.heights.mean_between(p.start_mm, p.end_mm) for p in arcs)
    indexes = {piece.index for piece in arcs}
    return gross - sum(laid.area_mm2(line) for laid in curve.openings if laid.piece_index in indexes)


def _count_insulation(tally: _Tally, curve: Curve) -> None:
    if not tally.wall.insulated:
        return
    material = tally.material("insulation")
    if material is None:
        return
    area_mm2 = curve.net_area_mm2("centre")
    explanation = Explanation(
        "net area of the cavity on the centreline", (("net area", tally.area(area_mm2)),), "Our own convention"
    )
    tally.add("insulation", "Cavity insulation", sqm_from_mm2(area_mm2), "sqm", explanation, material)


def _count_backing(tally: _Tally, plan: TrimPlan) -> None:
    if plan.backing_mm <= 0:
        return
    material = tally.material("backing")
    if material is None:
        return
    explanation = Explanation(
        "length of the framing face behind the trim, less the openings that interrupt it",
        (("trim", plan.run.name), ("length", tally.length(plan.backing_mm))),
        "Our own convention",
    )
    key = f"{plan.key.rsplit('/', 1)[-1]}/backing"
    label = f"Backing for {plan.run.name}"
    face, pieces_mm = plan.run.face, plan.backing_pieces_mm
    tally.add(key, label, plan.backing_mm, "mm", explanation, material, face, pieces_mm)
