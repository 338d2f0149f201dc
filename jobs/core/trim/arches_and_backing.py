"""What the shape of a wall asks for beside faces and trim runs: arches, spliced track, backing lines, words.

Arches are struck and lined; track longer than its stick is spliced; backing lies at the height of the trim it
holds. What closes, what nothing bends to, and what stands free is said aloud.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from catalog.core.ground.declared import As, View
from catalog.core.ground.units import TOLERANCE_MM, System, format_length, format_measure
from catalog.core.materials.specs import Material
from jobs.core.cutting.cutting import grains_of_stick, mm_of_grains
from jobs.core.framing.arch import ArchHead, head_of
from jobs.core.framing.framing import TrackKind, TrackRun
from jobs.core.measure.curve import Curve, Face
from jobs.core.measure.findings import Finding
from jobs.core.measure.wall_spec import AT_THE_CEILING, WallSpec
from jobs.core.trim.trim import TrimPlan


@dataclass(frozen=True)
class ArchWork:
    """An arched opening worked out.

    number: of the opening, from 1. soffit_depth_mm: of the strip that lines the arch, through the whole wall.
    """

    number: int
    name: str
    head: ArchHead
    soffit_depth_mm: float


@dataclass(frozen=True)
class TrackPiece(View):
    """A length of track cut from one stick: of which run (its kind and number from 1), and its length with laps, mm."""

    kind: Annotated[TrackKind, As(name="run")]
    run: Annotated[int, As(name="number")]
    length_mm: float


@dataclass(frozen=True)
class BackingLine(View):
    """Backing behind one run of trim. foot_mm, head_mm: above the floor, None where it follows the ceiling; then
    below_mm is its depth under it. length_mm: on the framing face."""

    trim: str
    face: Face
    foot_mm: float | None
    head_mm: float | None
    below_mm: Annotated[float | None, As(name="below_ceiling")]
    length_mm: float


def arch_works(
    curve: Curve, wall: WallSpec, system: System = "imperial"
) -> tuple[tuple[ArchWork, ...], tuple[Finding, ...]]:
    """The arched openings of a wall.

    curve, wall: the wall. system: of the sentences. Returns the openings in the order given, and a caution for the
    strip that lines each. Source: Machinery's Handbook 31, p. 79, and plane geometry; see `arch`.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.curve import curve_of
    >>> from jobs.core.measure.survey import HeightProfile, Opening, StraightPiece, Survey
    >>> heights, bare = HeightProfile(((0.0, 2700.0),)), FaceBuild(())
    >>> arched = (Opening("Pass", 1500.0, 960.0, 2240.0, arch_rise_mm=240.0),)
    >>> curve = curve_of(Survey((StraightPiece(3000.0),), heights, "centre", 92.0, 12.7, 12.7, arched))
    >>> wall = WallSpec("w", "Wall", "centre", (StraightPiece(3000.0),), heights, "T", "S", bare, bare, arched)
    >>> works, found = arch_works(curve, wall)
    >>> works[0].head.radius_mm, [one.weight for one in found]
    (600.0, ['caution'])
    """
    thick_mm = curve.stud_depth_mm + curve.left_build_up_mm + curve.right_build_up_mm
    works: list[ArchWork] = []
    findings: list[Finding] = []
    for number, laid in enumerate(curve.openings, 1):
        head = head_of(laid.opening)
        if head is None:
            continue
        works.append(ArchWork(number, laid.opening.name, head, thick_mm))
        told_length = format_length(head.soffit_mm, system)
        sentence = (
            f"{laid.opening.name}: the arch takes a strip {told_length} by {format_length(thick_mm, system)}, bent "
            f"to R {format_measure(head.radius_mm, system)}. It is not in the takeoff: cut it from off-cuts, or add "
            "it."
        )
        findings.append(
            Finding(f"{wall.key}/opening-{number}/soffit", "caution", sentence, "Radius x sweep of the arch")
        )
    return tuple(works), tuple(findings)


def track_pieces(runs: Sequence[TrackRun], track: Material | None, on_day: date) -> tuple[TrackPiece, ...]:
    """The lengths top and bottom track are cut to, run by run, with the laps of their splices.

    runs: of the framing. track: its longest stick bounds a piece and `splice_overlap_mm`, where stated, is lost at
    each splice; without it ends butt. on_day: sticks with a price then count where any has one, as for buying.
    Returns whole sticks and what is left, empty while no stick length is known.
    Source: plain arithmetic; the lap is the track's own figure.

    >>> from decimal import Decimal
    >>> from catalog.core.materials.specs import Pack
    >>> sticks = (Pack("T10", "10 ft stick", Decimal(10), length_mm=3048.0),)
    >>> track = Material("T", "Track", "track", "stocked", "ft", "stick", None, sticks)
    >>> [one.length_mm for one in track_pieces((TrackRun("top", 0.0, 4500.0, 4621.0),), track, date(2026, 5, 4))]
    [3048.0, 1573.0]
    """
    pieces: list[TrackPiece] = []
    numbers: dict[str, int] = {}
    for run in runs:
        if run.kind in ("top", "bottom"):
            numbers[run.kind] = numbers.get(run.kind, 0) + 1
            cut = spliced_mm(run.length_mm, track, on_day)
            pieces += [TrackPiece(run.kind, numbers[run.kind], piece_mm) for piece_mm in cut]
    return tuple(pieces)


def spliced_mm(length_mm: float, material: Material | None, on_day: date) -> tuple[float, ...]:
    """The lengths one run is cut to where it is longer than every stick: whole sticks, and what is left.

    length_mm: of the run, mm, > 0. material: its longest stick bounds a piece, and `splice_overlap_mm`, where stated,
    is lost at each splice; without it ends butt. on_day: sticks with a price then count where any has one. Returns the
    run itself where a stick holds it; nothing while no stick length is known.
    Source: plain arithmetic; the lap is the material's own figure.

    >>> spliced_mm(900.0, None, date(2026, 5, 4))
    ()
    """
    sticks = [pack for pack in material.packs if pack.length_mm is not None] if material else []
    priced = [pack for pack in sticks if pack.price_on(on_day) is not None]
    # A full piece is as long as the saw plan reads its stick, or none could be cut from it.
    lengths = [mm_of_grains(grains_of_stick(pack.length_mm or 0.0)) for pack in priced or sticks]
    if material is None or not lengths:
        return ()
    lap = material.fact("splice_overlap_mm")
    stick_mm, lap_mm, left_mm = max(lengths), lap.number if lap else 0.0, length_mm
    if lap_mm >= stick_mm:
        return ()
    pieces: list[float] = []
    while left_mm > stick_mm + TOLERANCE_MM:
        pieces.append(stick_mm)
        left_mm -= stick_mm - lap_mm
    return (*pieces, left_mm)


def laps_mm(runs: Sequence[TrackRun], pieces: Sequence[TrackPiece], kind: TrackKind) -> float:
    """What the splices of one kind of track add to its length, in mm.

    >>> laps_mm((TrackRun("top", 0.0, 4500.0, 4600.0),), (TrackPiece("top", 1, 3048.0), TrackPiece("top", 1, 1702.0)),
    ...     "top")
    150.0
    """
    cut_mm = sum(piece.length_mm for piece in pieces if piece.kind == kind)
    return cut_mm - sum(run.length_mm for run in runs if run.kind == kind) if cut_mm else 0.0


def backing_lines(trims: Iterable[TrimPlan], materials: Mapping[str, Material]) -> tuple[BackingLine, ...]:
    """Where backing is let in: at the height of each run of trim that asks for it.

    trims: worked out. materials: by code; the profile's `width_mm` gives the depth, and without it only the foot is
    known. Returns one line a run. Source: our own convention.

    >>> backing_lines((), {})
    ()
    """
    lines = []
    for plan in trims:
        if plan.backing_mm <= 0:
            continue
        material = materials.get(plan.run.material)
        width = material.fact("width_mm") if material else None
        foot_mm, head_mm, below_mm = plan.run.foot_mm, None, None
        if foot_mm is None and plan.run.position in AT_THE_CEILING:
            below_mm = width.number if width else None
        else:
            foot_mm = foot_mm or 0.0
            head_mm = foot_mm + width.number if width else None
        lines.append(BackingLine(plan.run.name, plan.run.face, foot_mm, head_mm, below_mm, plan.backing_mm))
    return tuple(lines)


def shape_notes(curve: Curve, wall: WallSpec, system: System = "imperial") -> tuple[Finding, ...]:
    """What the shape asks people to know: a closed wall, a wall that stands free.

    curve, wall: the wall. system: of the sentences. Returns notes and cautions.
    Source: own rules; a free-standing wall is for local code and licensed practice.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.curve import _example, curve_of
    >>> bare, curve = FaceBuild(()), curve_of(_example())
    >>> wall = WallSpec("w", "Wall", "centre", (), curve.heights, "T", "S", bare, bare, top="free")
    >>> [one.key for one in shape_notes(curve, wall)]
    ['w/top/free']
    """
    findings = []
    if curve.is_closed:
        sentence = (
            f"{wall.name} closes on itself, within {format_length(curve.closure_mm, system, 32)}: it has no free ends, "
            "its start and its end share one stud, and track and trim run round."
        )
        findings.append(Finding(f"{wall.key}/closed", "note", sentence))
    if wall.is_half_wall:
        sentence = (
            f"{wall.name} is free at its top. How it resists people leaning on it, and whether it is a guard, is "
            "for local code and licensed practice. Its heights are to the underside of the cap, its studs are cut "
            "to them, and its top track is fastened to nothing above."
        )
        findings.append(Finding(f"{wall.key}/top/free", "caution", sentence))
    return tuple(findings)
