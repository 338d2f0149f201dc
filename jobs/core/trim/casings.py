"""Casings round openings: legs from the sill up on both sides and a head across, mitred, keeping the reveal all round.

Round an arch the head is bent on edge; across a radial opening of a curved wall it follows the face.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from catalog.core.ground.units import TOLERANCE_MM, System, format_degrees, format_measure
from catalog.core.materials.specs import Fact, Material
from jobs.core.framing.arch import Casing, casing_of, head_of, level_casing
from jobs.core.measure.curve import FACES, Curve, Face, OpeningOnCurve
from jobs.core.measure.explanation import Explanation, Quantity
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import Line, OpeningCasing
from jobs.core.measure.wall_spec import WallSpec

ARCH_SOURCE = "Concentric arcs at the reveal and the casing's width, plane geometry; bought along the outer edge"
LEVEL_SOURCE = "Plane geometry; bought along the outer edge, mitred at 45 degrees"


@dataclass(frozen=True)
class CasedOpening:
    """A cased opening worked out.

    number: of the opening, from 1. sill_mm: where its legs stand. chosen: as entered. made: by face; empty where the
    width of its profile is not known.
    """

    number: int
    name: str
    sill_mm: float
    chosen: OpeningCasing
    made: tuple[tuple[Face, Casing], ...]


def cased_openings(
    curve: Curve, wall: WallSpec, materials: Mapping[str, Material], system: System = "imperial"
) -> tuple[tuple[CasedOpening, ...], tuple[Finding, ...]]:
    """The casings of a wall's openings.

    curve, wall: the wall. materials: by code; the profile's `width_mm` and its least radii are read. system: of the
    sentences. Returns the cased openings in the order given, and a gap or a decision for what is missing or too tight.
    Source: Machinery's Handbook 31, p. 79, and plane geometry; see `arch`.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.curve import _example, curve_of
    >>> bare, curve = FaceBuild(()), curve_of(_example())
    >>> cased_openings(curve, WallSpec("w", "Wall", "centre", (), curve.heights, "T", "S", bare, bare), {})
    ((), ())
    """
    cased: list[CasedOpening] = []
    findings: list[Finding] = []
    for number, laid in enumerate(curve.openings, 1):
        chosen, name = laid.opening.casing, laid.opening.name
        if chosen is None:
            continue
        key = f"{wall.key}/opening-{number}"
        width, complaints = _width_of(materials, chosen.legs, f"{key}/casing", name)
        findings += complaints
        made: tuple[tuple[Face, Casing], ...] = ()
        if width is not None:
            faces = FACES if chosen.faces == "both" else (chosen.faces,)
            made = tuple((face, _made(laid, chosen, face, width.number)) for face in faces)
            findings += _bends(curve, laid, chosen, made, materials, key, system)
        cased.append(CasedOpening(number, name, laid.opening.sill_mm, chosen, made))
    return tuple(cased), tuple(findings)


def _made(laid: OpeningOnCurve, chosen: OpeningCasing, face: Face, width_mm: float) -> Casing:
    head = head_of(laid.opening)
    if head is not None:
        return casing_of(head, chosen.reveal_mm, width_mm)
    is_flat = laid.opening.frame == "flat"
    across_mm = laid.opening.width_mm if is_flat else laid.taken_mm[_finished(face)]
    return level_casing(across_mm, laid.opening.head_mm, chosen.reveal_mm, width_mm)


def _finished(face: Face) -> Line:
    return "left_finished" if face == "left" else "right_finished"


def _width_of(
    materials: Mapping[str, Material], code: str, key: str, name: str
) -> tuple[Fact | None, tuple[Finding, ...]]:
    material = materials.get(code)
    if material is None:
        return None, ()  # told once, with every material that is missing
    width = material.fact("width_mm")
    if width is None:
        sentence = f"{name}: fill in width_mm of {material.name} ({code}): the outer edge of its casing hangs on it."
        return None, (Finding(f"{key}/width", "gap", sentence),)
    return width, ()


def _bends(
    curve: Curve,
    laid: OpeningOnCurve,
    chosen: OpeningCasing,
    made: tuple[tuple[Face, Casing], ...],
    materials: Mapping[str, Material],
    key: str,
    system: System,
) -> Iterable[Finding]:
    code, name, piece = chosen.head or chosen.legs, laid.opening.name, curve.pieces[laid.piece_index]
    material = materials.get(code)
    if material is None:
        return  # told once, with every material that is missing
    if laid.opening.is_arched:
        limit = material.fact("pre_curved_least_radius_mm") or material.trim_limit("hard_least_radius_mm")
        how, radius_mm = "on edge", made[0][1].inner_radius_mm
        fields = "hard_least_radius_mm or pre_curved_least_radius_mm"
    elif laid.opening.frame == "radial" and piece.is_arc:
        limit = material.fact("pre_curved_least_radius_mm") or material.trim_limit("least_radius_mm")
        how, radius_mm = "flat", min(piece.radius_at(curve.offset_mm(_finished(face))) for face, _ in made)
        fields = "least_radius_mm or pre_curved_least_radius_mm"
    else:
        return
    radius = format_measure(radius_mm, system)
    if limit is None:
        sentence = (
            f"{name}: {material.name} ({code}) states no least radius bent {how} and none for curving. Enter "
            f"{fields} to judge the casing's head at R {radius}."
        )
        yield Finding(f"{key}/casing-head/bend", "gap", sentence)
    elif radius_mm < limit.number - TOLERANCE_MM:
        sentence = (
            f"{name}: the head of the casing is bent {how} to R {radius}, tighter than the least "
            f"radius of {format_measure(limit.number, system)} of {material.name}. Choose another profile, or a named "
            "person must override it with a reason."
        )
        yield Finding(f"{key}/casing-head/bend", "decide", sentence, limit.source)


def casing_quantities(
    cased: Iterable[CasedOpening], wall: WallSpec, system: System = "imperial"
) -> tuple[Quantity, ...]:
    """Net lengths of casing and the pieces it is cut in.

    cased: of `cased_openings`. wall: for its key. system: of the explanations. Returns a quantity of legs and one of
    the head for each face, in mm along the outer edge, with their pieces.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.survey import HeightProfile
    >>> bare = FaceBuild(())
    >>> wall = WallSpec("w", "W", "centre", (), HeightProfile(((0.0, 2700.0),)), "T", "S", bare, bare)
    >>> casing_quantities((), wall)
    ()
    """
    items: list[Quantity] = []
    for opening in cased:
        for face, casing in opening.made:
            key = f"{wall.key}/opening-{opening.number}/casing-{face}"
            why = _why(opening, casing, system)
            leg_mm = max(casing.legs_outer_mm, casing.legs_inner_mm) - opening.sill_mm
            if leg_mm > TOLERANCE_MM:
                label, cut_mm = f"Casing of {opening.name}, legs, {face} face", (leg_mm, leg_mm)
                items.append(Quantity(f"{key}/legs", label, 2 * leg_mm, "mm", why, opening.chosen.legs, face, cut_mm))
            bent = f" to R {format_measure(casing.inner_radius_mm, system)}" if casing.inner_radius_mm else ""
            label, code = (
                f"Casing of {opening.name}, head{bent}, {face} face",
                opening.chosen.head or opening.chosen.legs,
            )
            head_mm = casing.outer_mm
            items.append(Quantity(f"{key}/head", label, head_mm, "mm", why, code, face, (head_mm,)))
    return tuple(items)


def _why(opening: CasedOpening, casing: Casing, system: System) -> Explanation:
    legs_mm = (casing.legs_inner_mm - opening.sill_mm, casing.legs_outer_mm - opening.sill_mm)
    radii = ("radius, inner and outer edge", _pair(casing.inner_radius_mm, casing.outer_radius_mm, system))
    shown = (
        *((radii,) if casing.inner_radius_mm else ()),
        ("head, inner and outer edge", _pair(casing.inner_mm, casing.outer_mm, system)),
        ("each leg, inner and outer edge", _pair(*legs_mm, system)),
        ("mitre off level", f"{format_degrees(casing.mitre_rad)} degrees"),
    )
    source = ARCH_SOURCE if casing.inner_radius_mm else LEVEL_SOURCE
    return Explanation("the casing keeps the reveal all round the opening", shown, source)


def _pair(one_mm: float, other_mm: float, system: System) -> str:
    return f"{format_measure(one_mm, system)} and {format_measure(other_mm, system)}"
