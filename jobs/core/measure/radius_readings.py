"""How well a radius is known: bands from the accuracy of the tape, and whether repeat readings agree.

Chord-and-rise measurement is kind to length and cruel to radius, so every reading gives a radius band rather than
a radius. Readings whose bands share no radius are not of one arc.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Annotated, Protocol

from catalog.core.ground.declared import As, Length
from catalog.core.ground.units import TOLERANCE_MM, System, format_length
from jobs.core.measure.circle_fit import fit_arc
from jobs.core.measure.curve import Point
from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import ChordRise, SurveyError

_GEOMETRY = "Plane geometry: R = c^2/(8h) + h/2, Machinery's Handbook 31, p. 79; the extremes are exact"


@dataclass(frozen=True)
class RadiusBand:
    """The least, the likeliest and the greatest radius that a measurement allows.

    Args:
        low_mm: > 0. best_mm: from low_mm to high_mm. high_mm: math.inf when a straight wall cannot be distinguished.

    Raises:
        SurveyError: the three are not in order or the least is not more than zero.

    >>> RadiusBand(95.0, 100.0, 106.0).half_width_mm
    5.5
    """

    low_mm: float
    best_mm: float
    high_mm: float

    def __post_init__(self) -> None:
        if not (0 < self.low_mm <= self.best_mm <= self.high_mm and math.isfinite(self.low_mm)):
            raise SurveyError(
                "radius",
                "a radius band runs from a least radius of more than zero by the best to the greatest; "
                f"{self.low_mm:g}, {self.best_mm:g}, {self.high_mm:g} were given",
            )

    @property
    def is_bounded(self) -> bool:
        """False when the measurement cannot tell the arc from a straight."""
        return math.isfinite(self.high_mm)

    @property
    def half_width_mm(self) -> float:
        return (self.high_mm - self.low_mm) / 2

    def on_parallel(self, outwards_mm: float) -> RadiusBand:
        """The band on a parallel line, outwards_mm further from the centre (mm, negative when nearer).

        Raises SurveyError when no radius would be left. Source: parallel curves; the radius changes by exactly that.

        >>> RadiusBand(95.0, 100.0, 106.0).on_parallel(-5.0).best_mm
        95.0
        """
        return RadiusBand(self.low_mm + outwards_mm, self.best_mm + outwards_mm, self.high_mm + outwards_mm)

    def words(self, system: System) -> str:
        """The band as it is said: from, to and best.

        >>> RadiusBand(95.0, 100.0, math.inf).words("metric")
        '95 mm or more, best 100 mm'
        """
        low, best = format_length(self.low_mm, system), format_length(self.best_mm, system)
        if not self.is_bounded:
            message = "no upper limit" if not math.isfinite(self.best_mm) else f"best {best}"
            return f"{low} or more, {message}"
        return f"{low} to {format_length(self.high_mm, system)}, best {best}"


class BandReading(Protocol):
    """What every way of measuring an arc gives."""

    @property
    def span_mm(self) -> float: ...

    @property
    def words_of_span(self) -> str: ...

    def band(self) -> RadiusBand: ...


@dataclass(frozen=True)
class Reading:
    """A chord and a rise as read.

    Args:
        chord_mm: > 0. rise_mm: > 0; may exceed half the chord. accuracy_mm: how far the rise may be out either
            way, > 0. chord_accuracy_mm: the same of the chord, >= 0; 0 for a straightedge of known length.

    Raises:
        SurveyError: a figure out of range, or an accuracy not finer than the figure it belongs to.

    >>> band = Reading(96 * 25.4, 6 * 25.4, 25.4 / 8).band()
    >>> round(band.low_mm / 25.4, 1), round(band.best_mm / 25.4, 1), round(band.high_mm / 25.4, 1)
    (191.1, 195.0, 199.0)
    """

    chord_mm: Annotated[float, Length(), "Straight between two points of the arc."]
    rise_mm: Annotated[float, Length(), "From the middle of the chord to the arc."]
    accuracy_mm: Annotated[float, As(aside=True)]
    chord_accuracy_mm: Annotated[float, As(aside=True)] = 0.0

    def __post_init__(self) -> None:
        ChordRise(self.chord_mm, self.rise_mm).solve()
        _accuracy("accuracy", self.accuracy_mm)
        if not (math.isfinite(self.chord_accuracy_mm) and 0 <= self.chord_accuracy_mm < self.chord_mm):
            raise SurveyError(
                "chord_accuracy",
                f"the accuracy of the chord must be zero or more and finer than the chord of {self.chord_mm:g} mm; "
                f"{self.chord_accuracy_mm:g} mm was given",
            )

    @property
    def span_mm(self) -> float:
        return self.chord_mm

    @property
    def words_of_span(self) -> str:
        return "chord"

    def band(self) -> RadiusBand:
        """The exact least and greatest radius over every chord and rise that the accuracies allow.

        The radius rises with the chord; it falls with the rise until half a circle and rises from there.
        high_mm is infinite when the rise may be nothing. Raises nothing of its own.

        >>> Reading(100.0, 2.0, 2.0).band().is_bounded
        False
        """
        least_chord = self.chord_mm - self.chord_accuracy_mm
        greatest_chord = self.chord_mm + self.chord_accuracy_mm
        least_rise = self.rise_mm - self.accuracy_mm
        greatest_rise = self.rise_mm + self.accuracy_mm
        tightest_rise = min(max(least_chord / 2, least_rise), greatest_rise)
        low = _radius(least_chord, tightest_rise)
        high = math.inf
        if least_rise > TOLERANCE_MM:
            high = max(_radius(greatest_chord, least_rise), _radius(greatest_chord, greatest_rise))
        best = _radius(self.chord_mm, self.rise_mm)
        return RadiusBand(min(low, best), best, max(high, best))


@dataclass(frozen=True)
class OnBlocks:
    """A straightedge held off a convex face on two equal blocks, where there is no chord to stretch.

    Args:
        apart_mm: between the points where the blocks touch the wall, > 0. block_mm: height of the blocks, > 0.
        gap_mm: left between straightedge and wall midway, >= 0 and less than the block; 0 when it just touches.
        accuracy_mm: of the gap, either way, > 0. apart_accuracy_mm: of the distance apart, >= 0.

    Raises:
        SurveyError: a figure out of range, or a gap not less than the block.

    >>> round(OnBlocks(1200.0, 60.0, 10.0, 1.0).band().best_mm, 3)
    3625.0
    """

    apart_mm: Annotated[
        float, Length(), "Between the points where two equal blocks touch a convex face.", As(label="Blocks apart")
    ]
    block_mm: Annotated[float, Length(), "Height of the blocks.", As(label="Height of the blocks")]
    gap_mm: Annotated[
        float, Length(), "Left between straightedge and face midway; less than the blocks.", As(label="Gap midway")
    ]
    accuracy_mm: Annotated[float, As(aside=True)]
    apart_accuracy_mm: Annotated[float, As(aside=True)] = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.block_mm) and self.block_mm > 0):
            raise SurveyError("block", f"the blocks need a height of more than zero; {self.block_mm:g} mm was given")
        if not 0 <= self.gap_mm < self.block_mm:
            raise SurveyError(
                "gap",
                f"the gap midway must be zero or more and less than the blocks' {self.block_mm:g} mm on a convex "
                f"face; {self.gap_mm:g} mm was given",
            )
        self._reading()

    def _reading(self) -> Reading:
        rise_mm = self.block_mm - self.gap_mm
        return Reading(self.apart_mm, rise_mm, self.accuracy_mm, self.apart_accuracy_mm)

    @property
    def span_mm(self) -> float:
        return self.apart_mm

    @property
    def words_of_span(self) -> str:
        return "blocks apart"

    def band(self) -> RadiusBand:
        """The band of the chord between the blocks, whose rise is block less gap.

        >>> OnBlocks(1200.0, 50.0, 0.0, 1.0).band() == Reading(1200.0, 50.0, 1.0).band()
        True
        """
        return self._reading().band()


@dataclass(frozen=True)
class EndGaps:
    """A straightedge laid against a convex face, and the gap it leaves at each end, square to it.

    Args:
        length_mm: of the straightedge, > 0. first_gap_mm, last_gap_mm: at its ends, >= 0, not both 0; unequal
            when it does not touch at its middle. accuracy_mm: of each gap, either way, > 0.
        length_accuracy_mm: of the length, >= 0.

    Raises:
        SurveyError: a figure out of range, or gaps so deep that an end lies beyond the wall's quarter turn.

    >>> round(EndGaps(1200.0, 50.0, 50.0, 1.0).band().best_mm, 3)
    3625.0
    """

    length_mm: Annotated[
        float,
        Length(),
        "Length of a straightedge laid against a convex face.",
        As(name="straightedge", label="Length of the straightedge"),
    ]
    first_gap_mm: Annotated[float, Length(), "Gap at its first end, square to it.", As(label="Gap at its first end")]
    last_gap_mm: Annotated[
        float, Length(), "Gap at its last end, square to it; not nothing at both ends.", As(label="Gap at its last end")
    ]
    accuracy_mm: Annotated[float, As(aside=True)]
    length_accuracy_mm: Annotated[float, As(aside=True)] = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.length_mm) and 0 < self.length_mm <= 1e7):
            raise SurveyError("length", f"the straightedge needs a length of more than zero, not {self.length_mm:g}")
        for field, gap_mm in (("first_gap", self.first_gap_mm), ("last_gap", self.last_gap_mm)):
            if not (math.isfinite(gap_mm) and gap_mm >= 0):
                raise SurveyError(field, f"a gap must be zero or more; {gap_mm:g} mm was given")
        if self.first_gap_mm + self.last_gap_mm <= TOLERANCE_MM:
            raise SurveyError("last_gap", "a straightedge that touches at both ends shows no convex arc")
        _accuracy("accuracy", self.accuracy_mm)
        if not (math.isfinite(self.length_accuracy_mm) and 0 <= self.length_accuracy_mm < self.length_mm):
            raise SurveyError("length_accuracy", "the accuracy of the length must be zero or more and finer than it")
        deepest = max(self.first_gap_mm, self.last_gap_mm) + self.accuracy_mm
        if deepest >= self._at(-self.length_accuracy_mm, self.accuracy_mm):
            raise SurveyError(
                "first_gap" if self.first_gap_mm >= self.last_gap_mm else "last_gap",
                f"gaps of {self.first_gap_mm:g} and {self.last_gap_mm:g} mm under {self.length_mm:g} mm reach round "
                "the side of the arc; use a shorter straightedge",
            )

    @property
    def span_mm(self) -> float:
        return self.length_mm

    @property
    def words_of_span(self) -> str:
        return "straightedge"

    def _at(self, longer_mm: float, deeper_mm: float) -> float:
        first, last = max(0.0, self.first_gap_mm + deeper_mm), max(0.0, self.last_gap_mm + deeper_mm)
        return _radius_of_gaps(self.length_mm + longer_mm, first, last)

    def band(self) -> RadiusBand:
        """The exact extremes over length and gaps: the radius rises with the length and falls with either gap.

        >>> EndGaps(1200.0, 1.0, 1.0, 1.0).band().is_bounded
        False
        """
        low, best = self._at(-self.length_accuracy_mm, self.accuracy_mm), self._at(0.0, 0.0)
        return RadiusBand(min(low, best), best, max(best, self._at(self.length_accuracy_mm, -self.accuracy_mm)))


@dataclass(frozen=True)
class RadiusFound:
    """What several readings of one arc give together.

    bands: of each reading, in order. band: the radii that fit them all, or that of the reading of the longest span
    when they are not one radius. trusted: index of that reading. is_one_radius: whether the bands share a radius.
    findings: what somebody must read.
    """

    bands: tuple[RadiusBand, ...]
    band: RadiusBand
    trusted: int
    is_one_radius: bool
    findings: tuple[Finding, ...]


def radius_of_readings(readings: Sequence[BandReading], key: str, system: System) -> RadiusFound:
    """Bring repeat readings of one arc, all on one line of the wall, to one radius band.

    Args:
        readings: at least one. key: what the findings are about, such as "screen/piece-1". system: of the words.

    Returns:
        The band that fits every reading; its best is the mean of the readings' curvatures, each weighted by one
        over the square of its band's width, kept within the band, and a note of their spread. When the bands share no
        radius: that of the longest span, and a finding "not one radius" that needs a decision.

    Raises:
        SurveyError: no reading.

    Source: intervals that overlap two by two share a point (Helly); that the longest chord is the one to trust
    follows from the rise, which grows with its square while the error of the tape stays.

    >>> found = radius_of_readings([Reading(2400.0, 150.0, 3.0), Reading(1200.0, 50.0, 3.0)], "w/piece-1", "metric")
    >>> found.is_one_radius, found.findings[0].key
    (False, 'w/piece-1/not-one-radius')
    """
    if not readings:
        raise SurveyError("readings", "a radius needs at least one reading")
    bands = tuple(reading.band() for reading in readings)
    trusted = max(range(len(readings)), key=lambda place: (readings[place].span_mm, -_width(bands[place])))
    low, high = max(band.low_mm for band in bands), min(band.high_mm for band in bands)
    agree = low <= high + TOLERANCE_MM
    findings: list[Finding] = []
    if agree:
        band = RadiusBand(low, min(max(_weighted(bands), low), max(high, low)), max(high, low))
        if len(readings) > 1:
            findings.append(_spread(readings, bands, trusted, key, system))
    else:
        band = bands[trusted]
        findings.append(_not_one(readings, bands, trusted, key, system))
    if not band.is_bounded:
        message = (
            f"These readings fit any radius of {format_length(band.low_mm, system)} or more, a straight wall "
            "included: the rise is no greater than the tape's accuracy. Measure over a longer chord."
        )
        findings.append(Finding(f"{key}/flat", "decide", message, _GEOMETRY))
    return RadiusFound(bands, band, trusted, agree, tuple(findings))


def _spread(
    readings: Sequence[BandReading], bands: Sequence[RadiusBand], trusted: int, key: str, system: System
) -> Finding:
    radii = [band.best_mm for band in bands if math.isfinite(band.best_mm)] or [bands[trusted].low_mm]
    longest, band = readings[trusted], bands[trusted]
    message = (
        f"{len(readings)} readings agree: R {format_length(min(radii), system)} to "
        f"{format_length(max(radii), system)}, {format_length(max(radii) - min(radii), system)} apart. Go by "
        f"the longest, the {longest.words_of_span} of {format_length(longest.span_mm, system)}: {band.words(system)}."
    )
    return Finding(f"{key}/spread", "note", message, _GEOMETRY)


def _not_one(
    readings: Sequence[BandReading], bands: Sequence[RadiusBand], trusted: int, key: str, system: System
) -> Finding:
    shown = "; ".join(
        f"{reading.words_of_span} {format_length(reading.span_mm, system)} gives {band.words(system)}"
        for reading, band in zip(readings, bands, strict=True)
    )
    longest = f"{readings[trusted].words_of_span} of {format_length(readings[trusted].span_mm, system)}"
    message = (
        f"Not one radius: {shown}. Read them again; until then trust the longest, the {longest}. If they stand, "
        "the wall is more than one arc: enter its pieces, or offsets from a straight baseline."
    )
    return Finding(f"{key}/not-one-radius", "decide", message, _GEOMETRY)


@dataclass(frozen=True)
class ReadingAtHeight:
    """A reading taken at height_mm above the floor (mm, >= 0) on a wall that may be out of plumb."""

    height_mm: float
    reading: BandReading

    def __post_init__(self) -> None:
        _height("height", self.height_mm)


@dataclass(frozen=True)
class Lean:
    """How far an arc stands off plumb at one place.

    Args:
        along_mm: along the arc from its start, mm, >= 0. outwards_mm: how far it stands off plumb at height_mm,
            away from the centre (towards the convex side) positive. height_mm: above the floor, > 0.

    Raises:
        SurveyError: a figure not finite or out of range, or a lean of more than the height.

    >>> Lean(0.0, 12.0, 2400.0).at(1200.0)
    6.0
    """

    along_mm: Annotated[
        float,
        Length(),
        "Along the arc from its start; the start where it is left out.",
        As(label="Along the arc, from its start", hint="empty: at its start, and the same all along", absent=0.0),
    ]
    outwards_mm: Annotated[
        float,
        Length(signed=True),
        "Off plumb at that height, away from the centre; negative towards it. Less than the height.",
        As(label="Off plumb, outwards", hint="away from the centre; negative towards it"),
    ]
    height_mm: Annotated[
        float,
        Length(),
        "Above the floor, where it was read; more than zero, at most 30 m.",
        As(label="Read at a height of"),
    ]

    def __post_init__(self) -> None:
        if not (math.isfinite(self.along_mm) and self.along_mm >= 0):
            raise SurveyError("along", f"a lean is at zero or more along the arc, not {self.along_mm:g}")
        _height("height", self.height_mm)
        if self.height_mm <= 0 or not abs(self.outwards_mm) < self.height_mm:
            raise SurveyError(
                "outwards",
                f"a lean is read above the floor and is less than that height; {self.outwards_mm:g} mm at "
                f"{self.height_mm:g} mm was given",
            )

    def at(self, height_mm: float) -> float:
        """Off plumb at another height (mm, >= 0), the wall being straight upwards; mm, outwards positive."""
        return self.outwards_mm * height_mm / self.height_mm


@dataclass(frozen=True)
class RadiusAtHeight:
    """The radius band at a height above the floor. off_arc_mm: how far the wall is from one arc there, >= 0."""

    height_mm: float
    band: RadiusBand
    off_arc_mm: float = 0.0


def radii_by_readings(readings: Iterable[ReadingAtHeight], key: str, system: System) -> tuple[RadiusAtHeight, ...]:
    """A radius for each height at which readings were taken; several at one height are brought together.

    Args:
        readings: on one line of the wall. key, system: as of `radius_of_readings`.

    Returns:
        One entry a height, from the floor up.

    Raises:
        SurveyError: no reading, or readings at one height that are not one radius (field "readings").

    Source: as `radius_of_readings`.

    >>> low, high = Reading(2400.0, 150.0, 3.0), Reading(2400.0, 140.0, 3.0)
    >>> [one.height_mm for one in radii_by_readings([ReadingAtHeight(2000.0, high), ReadingAtHeight(100.0, low)],
    ...     "w/piece-1", "metric")]
    [100.0, 2000.0]
    """
    by_height: dict[float, list[BandReading]] = {}
    for reading in readings:
        by_height.setdefault(reading.height_mm, []).append(reading.reading)
    if not by_height:
        raise SurveyError("readings", "a radius needs at least one reading")
    radii = []
    for height_mm in sorted(by_height):
        radius = radius_of_readings(by_height[height_mm], key, system)
        if not radius.is_one_radius:
            raise SurveyError("readings", f"at {format_length(height_mm, system)}: {radius.findings[0].sentence}")
        radii.append(RadiusAtHeight(height_mm, radius.band))
    return tuple(radii)


def radii_by_lean(
    base: RadiusBand, sweep_rad: float, leans: Sequence[Lean], heights_mm: Sequence[float]
) -> tuple[RadiusAtHeight, ...]:
    """The radius at each height of a wall that leans, from the radius at its foot.

    Args:
        base: the band at the floor. sweep_rad: of the arc there, in (0, 2 pi). leans: one, taken as the same all
            along; or three or more, at different places. heights_mm: each >= 0.

    Returns:
        One entry a height, in the order given: base + lean when one was read, else the circle fitted to the
        leaning places, with the largest distance any of them has from it.

    Raises:
        SurveyError: a figure out of range, two leans, or a place beyond the arc.

    Source: a plumb arc displaced outwards by x has a radius greater by x; fits as `circle_fit.fit_arc`.

    >>> crown = radii_by_lean(RadiusBand(2990.0, 3000.0, 3010.0), 1.5, [Lean(0.0, 12.0, 2400.0)], [2400.0])
    >>> crown[0].band.best_mm
    3012.0
    """
    if not base.is_bounded:
        raise SurveyError("radius", "a lean needs a radius at the floor that is known; this band has no upper limit")
    if not 0 < sweep_rad < 2 * math.pi:
        raise SurveyError("angle", f"an arc must turn more than 0 and less than 360 degrees, not {sweep_rad:g} rad")
    if len(leans) not in (1, *range(3, 1001)):
        raise SurveyError("leans", f"give one lean for the whole arc, or at least three; {len(leans)} were given")
    length_mm = base.best_mm * sweep_rad
    for lean in leans:
        if lean.along_mm > length_mm + TOLERANCE_MM:
            raise SurveyError("along", f"{lean.along_mm:g} mm lies beyond an arc {length_mm:g} mm long")
    for height_mm in heights_mm:
        _height("height", height_mm)
    return tuple(_leaning(base, leans, height_mm) for height_mm in heights_mm)


def _leaning(base: RadiusBand, leans: Sequence[Lean], height_mm: float) -> RadiusAtHeight:
    if len(leans) == 1:
        return RadiusAtHeight(height_mm, base.on_parallel(leans[0].at(height_mm)))
    points: list[Point] = []
    for lean in sorted(leans, key=lambda entry: entry.along_mm):
        angle, radius_mm = lean.along_mm / base.best_mm, base.best_mm + lean.at(height_mm)
        points.append((radius_mm * math.sin(angle), radius_mm * math.cos(angle)))
    fit = fit_arc(points)
    if fit.radius_mm is None:
        raise SurveyError("leans", f"these leans leave no arc {height_mm:g} mm above the floor")
    return RadiusAtHeight(height_mm, base.on_parallel(fit.radius_mm - base.best_mm), fit.largest_mm)


def base_and_crown(radii: Sequence[RadiusAtHeight], key: str, system: System) -> Finding | None:
    """What to say of a wall whose radius changes with its height.

    Args:
        radii: at least one. key: what it is about, such as "screen/piece-1". system: of the words.

    Returns:
        A caution naming the radius at the lowest and at the highest place; None when they are the same to 1/16 in.

    Raises:
        SurveyError: no radius.

    Source: 1/16 in is the least a tape shows; our own convention.

    >>> radii = radii_by_lean(RadiusBand(2990.0, 3000.0, 3010.0), 1.5, [Lean(0.0, 12.0, 2400.0)], [0.0, 2400.0])
    >>> base_and_crown(radii, "w/piece-1", "metric").key
    'w/piece-1/out-of-plumb'
    """
    if not radii:
        raise SurveyError("readings", "a radius needs at least one reading")
    ordered = sorted(radii, key=lambda height: height.height_mm)
    foot, head = ordered[0], ordered[-1]
    if abs(foot.band.best_mm - head.band.best_mm) < 25.4 / 16:
        return None
    message = (
        f"Out of plumb: radius {format_length(foot.band.best_mm, system)} at "
        f"{format_length(foot.height_mm, system)} above the floor, {format_length(head.band.best_mm, system)} at "
        f"{format_length(head.height_mm, system)}. Order base to the first and crown to the second, each to the "
        "radius at its own height."
    )
    return Finding(f"{key}/out-of-plumb", "caution", message, "Plane geometry; each height has its own circle")


def _radius(chord_mm: float, rise_mm: float) -> float:
    return chord_mm**2 / (8 * rise_mm) + rise_mm / 2


def _radius_of_gaps(length_mm: float, first_mm: float, last_mm: float) -> float:
    """The circle a straightedge touches at `a` from its first end: a^2 = g1 (2R - g1), (L - a)^2 = g2 (2R - g2)."""
    if first_mm <= TOLERANCE_MM and last_mm <= TOLERANCE_MM:
        return math.inf
    if first_mm <= TOLERANCE_MM:
        return (length_mm**2 + last_mm**2) / (2 * last_mm)
    # (g2 - g1) a^2 + 2 g1 L a - g1 (L^2 + g2^2 - g1 g2) = 0, by the root that stays near when g1 = g2.
    square, half = last_mm - first_mm, first_mm * length_mm
    rest = first_mm * (length_mm**2 + last_mm**2 - first_mm * last_mm)
    touches_mm = rest / (half + math.sqrt(max(0.0, half**2 + square * rest)))
    return (touches_mm**2 + first_mm**2) / (2 * first_mm)


def _curvatures(band: RadiusBand) -> tuple[float, float, float]:
    return 1 / band.high_mm, 1 / band.best_mm, 1 / band.low_mm


def _width(band: RadiusBand) -> float:
    flattest, _, tightest = _curvatures(band)
    return tightest - flattest


def _weighted(bands: Sequence[RadiusBand]) -> float:
    weights = [1 / max(_width(band), 1e-15) ** 2 for band in bands]
    curvatures = [_curvatures(band)[1] for band in bands]
    mean = math.fsum(w * k for w, k in zip(weights, curvatures, strict=True)) / math.fsum(weights)
    return 1 / mean if mean > 0 else math.inf


def _accuracy(field: str, value_mm: float) -> None:
    if not (math.isfinite(value_mm) and value_mm > 0):
        raise SurveyError(
            field, f"say how far the tape may be out: an accuracy of more than zero; {value_mm:g} was given"
        )


def _height(field: str, value_mm: float) -> None:
    if not (math.isfinite(value_mm) and 0 <= value_mm <= 30_000):
        raise SurveyError(
            field, f"a height above the floor is from zero to 30 m (an interior wall); {value_mm:g} mm was given"
        )
