"""An arch head in a straight wall: the arc of its opening, and the casing round it on each face.

The head is one arc of a circle that springs from both jambs, at most a half circle. The casing keeps the reveal all
round: straight legs beside the jambs, and a head concentric with the arch that meets them in a mitre.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from catalog.core.ground.declared import As, View
from catalog.core.ground.units import TOLERANCE_MM
from jobs.core.framing.setting_out import Ordinate
from jobs.core.measure.curve import Point
from jobs.core.measure.survey import ChordRise, Opening, SurveyError

MAX_ROWS = 2000


@dataclass(frozen=True)
class ArchHead:
    """An arch head by its span and rise.

    Args:
        span_mm: between the jambs at the spring line, > 0. rise_mm: of the crown above the spring line, > 0 and at
            most half the span. spring_mm: height of the spring line above the floor, >= 0.

    Raises:
        SurveyError: a figure out of range; a rise of more than half the span would be no head but a horseshoe.

    >>> head = ArchHead(96.0, 24.0, 200.0)
    >>> head.radius_mm
    60.0
    """

    span_mm: float
    rise_mm: float
    spring_mm: float

    def __post_init__(self) -> None:
        try:
            ChordRise(self.span_mm, self.rise_mm).solve()
        except SurveyError as error:
            field, reason = error.field.replace("chord", "span"), error.reason.replace("the chord", "the span")
            raise SurveyError(field, reason) from error
        if self.rise_mm > self.span_mm / 2 + TOLERANCE_MM:
            raise SurveyError(
                "rise",
                f"an arch head rises at most half its span ({self.span_mm / 2:g} mm), a half circle; "
                f"{self.rise_mm:g} mm was given",
            )
        if not (math.isfinite(self.spring_mm) and 0 <= self.spring_mm <= 30_000):
            raise SurveyError("spring", f"the spring line is from zero to 30 m above the floor, not {self.spring_mm:g}")

    @property
    def radius_mm(self) -> float:
        """Of the arch. Source: R = c^2/(8h) + h/2, Machinery's Handbook 31, p. 79."""
        return ChordRise(self.span_mm, self.rise_mm).solve().radius_mm

    @property
    def sweep_rad(self) -> float:
        return ChordRise(self.span_mm, self.rise_mm).solve().sweep_rad

    @property
    def soffit_mm(self) -> float:
        """Length of the arc under the head: what a strip of board or liner there must have."""
        return self.radius_mm * self.sweep_rad

    @property
    def crown_mm(self) -> float:
        """Height of the crown above the floor."""
        return self.spring_mm + self.rise_mm

    @property
    def centre_mm(self) -> float:
        """Height above the floor of the centre the arch is struck from, midway between the jambs; may be below it."""
        return self.crown_mm - self.radius_mm

    @property
    def area_mm2(self) -> float:
        """Area of the segment above the spring line, R^2 (sweep - sin sweep) / 2."""
        return self.radius_mm**2 * (self.sweep_rad - math.sin(self.sweep_rad)) / 2


def head_of(opening: Opening) -> ArchHead | None:
    """The arch head of an opening, None where its head is level.

    >>> head_of(Opening("Pass", 1000.0, 96.0, 224.0, arch_rise_mm=24.0))
    ArchHead(span_mm=96.0, rise_mm=24.0, spring_mm=200.0)
    """
    if opening.arch_rise_mm is None:
        return None
    return ArchHead(opening.width_mm, opening.arch_rise_mm, opening.spring_mm)


@dataclass(frozen=True)
class Casing(View):
    """A casing round an opening on one face.

    reveal_mm: left of the jamb's edge. width_mm: of the casing. inner_radius_mm, outer_radius_mm: of an arched head, 0
    of a level one.
    inner_mm, outer_mm: lengths of the head along both edges, between the mitres. legs_inner_mm, legs_outer_mm: of one
    leg from the floor to the mitre, along both its edges. mitre_rad: of the joint from level, falling inwards.
    """

    reveal_mm: float
    width_mm: float
    inner_radius_mm: float
    outer_radius_mm: float
    inner_mm: Annotated[float, As(name="head_inner")]
    outer_mm: Annotated[float, As(name="head_outer")]
    legs_inner_mm: Annotated[float, As(name="leg_inner")]
    legs_outer_mm: Annotated[float, As(name="leg_outer")]
    mitre_rad: float


def casing_of(head: ArchHead, reveal_mm: float, width_mm: float) -> Casing:
    """The casing round an arch head.

    Args:
        head: the arch. reveal_mm: from the edge of the opening to the casing, >= 0. width_mm: of the casing, > 0.

    Returns:
        Its radii and lengths.

    Raises:
        SurveyError: a figure out of range.

    Source: a concentric arc meets the upright x from the middle where sin = x / R; plane geometry. A half circle
    meets its legs at the spring line on both edges.

    >>> casing = casing_of(ArchHead(1000.0, 500.0, 2000.0), 5.0, 70.0)
    >>> round(casing.inner_mm - math.pi * 505, 6), round(casing.outer_mm - math.pi * 575, 6), casing.mitre_rad
    (0.0, 0.0, 0.0)
    """
    if not (math.isfinite(reveal_mm) and 0 <= reveal_mm <= 1000):
        raise SurveyError("reveal", f"a reveal is from zero to 1000 mm; {reveal_mm:g} mm was given")
    if not (math.isfinite(width_mm) and 0 < width_mm <= 1000):
        raise SurveyError("width", f"a casing is more than zero and at most 1000 mm wide; {width_mm:g} mm was given")
    inner, outer = (_edge(head, reveal_mm + more) for more in (0.0, width_mm))
    fall = outer[2] - inner[2]
    return Casing(
        reveal_mm,
        width_mm,
        inner[0],
        outer[0],
        inner[1],
        outer[1],
        inner[2],
        outer[2],
        0.0 if abs(fall) <= TOLERANCE_MM else math.atan2(fall, width_mm),
    )


def level_casing(across_mm: float, head_mm: float, reveal_mm: float, width_mm: float) -> Casing:
    """The casing round a level head: two legs and a head, mitred at 45 degrees.

    Args:
        across_mm: between the jambs, > 0. head_mm: height of the head above the floor, > 0. reveal_mm, width_mm: as of
            `casing_of`.

    Returns:
        Its lengths; its radii are 0.

    Source: plane geometry.

    >>> casing = level_casing(900.0, 2100.0, 5.0, 70.0)
    >>> casing.inner_mm, casing.outer_mm, casing.legs_inner_mm, casing.legs_outer_mm
    (910.0, 1050.0, 2105.0, 2175.0)
    """
    inner_mm, outer_mm = across_mm + 2 * reveal_mm, across_mm + 2 * (reveal_mm + width_mm)
    legs_mm = head_mm + reveal_mm
    return Casing(reveal_mm, width_mm, 0.0, 0.0, inner_mm, outer_mm, legs_mm, legs_mm + width_mm, math.pi / 4)


def _edge(head: ArchHead, out_mm: float) -> tuple[float, float, float]:
    """Radius, length of the head and height of the mitre of an edge so far out from the opening."""
    radius_mm, half_mm = head.radius_mm + out_mm, head.span_mm / 2 + out_mm
    half_rad = math.asin(min(1.0, half_mm / radius_mm))
    return radius_mm, 2 * radius_mm * half_rad, head.centre_mm + radius_mm * math.cos(half_rad)


def heights_of_arch(head: ArchHead, interval_mm: float, out_mm: float = 0.0) -> tuple[Ordinate, ...]:
    """Heights above the spring line to strike an arch whose centre cannot be reached.

    Args:
        head: the arch. interval_mm: along the spring line, > 0. out_mm: of the edge wanted from the opening, >= 0:
            the reveal for the casing's inner edge.

    Returns:
        From one jamb to the other: along the spring line from the edge's own end, and up to the edge; the middle and
        both ends as well as every interval.

    Raises:
        SurveyError: a figure out of range, or an interval that gives over 2,000 rows.

    Source: y = centre + sqrt(R^2 - t^2); plane geometry.

    >>> [round(row.ordinate_mm, 6) for row in heights_of_arch(ArchHead(96.0, 24.0, 200.0), 48.0)]
    [0.0, 24.0, 0.0]
    """
    if not (math.isfinite(interval_mm) and interval_mm > 0):
        raise SurveyError("interval", f"the interval must be more than zero; {interval_mm:g} mm was given")
    if not (math.isfinite(out_mm) and 0 <= out_mm <= 2000):
        raise SurveyError("out", f"an edge stands from zero to 2000 mm out of the opening, not {out_mm:g}")
    radius_mm, half_mm = head.radius_mm + out_mm, head.span_mm / 2 + out_mm
    if 2 * half_mm / interval_mm > MAX_ROWS:
        raise SurveyError("interval", f"{interval_mm:g} mm gives over {MAX_ROWS} rows; take a wider interval")
    steps = [step * interval_mm for step in range(math.floor(2 * half_mm / interval_mm) + 1)]
    places = sorted({*steps, half_mm, 2 * half_mm})
    heights = [place for n, place in enumerate(places) if n == 0 or place - places[n - 1] > TOLERANCE_MM]
    below_mm = head.rise_mm - head.radius_mm
    return tuple(
        Ordinate(place, max(0.0, below_mm + math.sqrt(max(0.0, radius_mm**2 - (place - half_mm) ** 2))))
        for place in heights
    )


def outline_of(head: ArchHead, count: int = 48) -> tuple[Point, ...]:
    """Points of the opening for a drawing: from the foot of the left jamb round to the foot of the right.

    head: the arch. count: of steps over the arc, 1 or more. Points in mm from the middle of the floor. Raises
    SurveyError for a count under 1.

    >>> [(round(x), round(y)) for x, y in outline_of(ArchHead(96.0, 24.0, 200.0), 2)]
    [(-48, 0), (-48, 200), (0, 224), (48, 200), (48, 0)]
    """
    if count < 1:
        raise SurveyError("count", f"an arc is drawn in one step or more, not {count}")
    half_rad = head.sweep_rad / 2
    turned = [half_rad * (2 * step / count - 1) for step in range(count + 1)]
    arc = [(head.radius_mm * math.sin(t), head.centre_mm + head.radius_mm * math.cos(t)) for t in turned]
    return ((-head.span_mm / 2, 0.0), *arc, (head.span_mm / 2, 0.0))
