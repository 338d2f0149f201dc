"""Runs of trim that would lie on one another: their heights on one face overlap.

A shoe stands before the base, a shadow reveal lies in the board, and a cap lies on top: none of them is in the way.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations

from catalog.core.ground.units import TOLERANCE_MM, System, format_measure
from catalog.core.materials.specs import Material
from jobs.core.measure.curve import Curve
from jobs.core.measure.findings import Finding
from jobs.core.measure.wall_spec import AT_THE_CEILING, ON_TOP, TrimRun, WallSpec

NEVER_IN_THE_WAY = frozenset({"shoe", "reveal", ON_TOP})


def overlaps(
    curve: Curve, wall: WallSpec, materials: Mapping[str, Material], system: System = "imperial"
) -> tuple[Finding, ...]:
    """A caution for each two runs of one face whose heights overlap.

    Args:
        curve, wall: the wall. materials: by code; a run whose profile states no `width_mm` is left out. system: of the
            sentences.

    Returns:
        Findings keyed under the later run; under a ceiling that slopes, runs are held against its lowest place.

    Source: own rule.

    >>> from jobs.core.measure.wall_spec import FaceBuild
    >>> from jobs.core.measure.curve import curve_of, _example
    >>> curve, bare = curve_of(_example()), FaceBuild(())
    >>> overlaps(curve, WallSpec("w", "Wall", "centre", (), curve.heights, "T", "S", bare, bare), {})
    ()
    """
    bands = []
    for number, run in enumerate(wall.trims, 1):
        material = materials.get(run.material)
        width = material.fact("width_mm") if material else None
        if width is not None and run.position not in NEVER_IN_THE_WAY:
            bands.append((number, run, _foot_mm(curve, run, width.number), width.number))
    findings = []
    for (lower, band, foot_mm, high_mm), (upper, other, other_foot_mm, other_high_mm) in combinations(bands, 2):
        shared_mm = min(foot_mm + high_mm, other_foot_mm + other_high_mm) - max(foot_mm, other_foot_mm)
        if band.face == other.face and shared_mm > TOLERANCE_MM:
            sentence = (
                f"{band.name} and {other.name} overlap by {format_measure(shared_mm, system)} in height on the "
                f"{band.face} face. Move one of them, or choose a narrower profile."
            )
            findings.append(Finding(f"{wall.key}/trim-{upper}/overlap-{lower}", "caution", sentence, "Own rule"))
    return tuple(findings)


def _foot_mm(curve: Curve, run: TrimRun, width_mm: float) -> float:
    if run.foot_mm is None and run.position in AT_THE_CEILING:
        return curve.least_height_mm - width_mm
    return run.foot_mm or 0.0
