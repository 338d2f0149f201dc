"""The band of an arc as it was given: its own figures read as a measurement with the accuracy of the tape.

A piece that somebody entered was measured as well: whatever way it is given, the tape's accuracy makes its radius a
band.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from catalog.core.ground.units import TOLERANCE_MM
from jobs.core.measure.radius_readings import BandReading, RadiusBand, Reading
from jobs.core.measure.survey import (
    ArcGiven,
    ArcLengthChord,
    ChordRise,
    MatchedCurve,
    RadiusAngle,
    RadiusArcLength,
    RadiusChord,
    SurveyError,
    ThreePoints,
)


@dataclass(frozen=True)
class Swung:
    """A radius read from its centre.

    Args:
        radius_mm: > 0. accuracy_mm: either way, > 0 and finer than the radius.

    Raises:
        SurveyError: a figure out of range.

    >>> Swung(1000.0, 3.0).band().low_mm
    997.0
    """

    radius_mm: float
    accuracy_mm: float

    def __post_init__(self) -> None:
        _finer(self.accuracy_mm, self.radius_mm, "the radius")

    @property
    def span_mm(self) -> float:
        return self.radius_mm

    @property
    def words_of_span(self) -> str:
        return "radius"

    def band(self) -> RadiusBand:
        """The radius less and more the accuracy."""
        return RadiusBand(self.radius_mm - self.accuracy_mm, self.radius_mm, self.radius_mm + self.accuracy_mm)


@dataclass(frozen=True)
class AlongAndAcross:
    """The length along an arc and its chord, both read with the same tape.

    Args:
        arc_mm, chord_mm: > 0, the arc the longer. accuracy_mm: of each, either way, > 0 and finer than the chord.

    Raises:
        SurveyError: a figure out of range.

    >>> AlongAndAcross(1020.0, 1000.0, 30.0).band().is_bounded
    False
    """

    arc_mm: float
    chord_mm: float
    accuracy_mm: float

    def __post_init__(self) -> None:
        _finer(self.accuracy_mm, self.chord_mm, "the chord")
        ArcLengthChord(self.arc_mm, self.chord_mm).solve()

    @property
    def span_mm(self) -> float:
        return self.chord_mm

    @property
    def words_of_span(self) -> str:
        return "chord"

    def band(self) -> RadiusBand:
        """The exact extremes: the radius rises with the chord, and falls with the arc until half a circle.

        Source: R = chord / (2 sin(sweep / 2)), sweep from sin(x)/x = chord/arc; least at half a circle, R = chord/2.

        >>> band = AlongAndAcross(1569.5, 1000.0, 1.0).band()
        >>> band.low_mm
        499.5
        """
        shorter, longer = self.arc_mm - self.accuracy_mm, self.arc_mm + self.accuracy_mm
        least, most = self.chord_mm - self.accuracy_mm, self.chord_mm + self.accuracy_mm
        best = _radius_between(self.arc_mm, self.chord_mm)
        half_circle = least * math.pi / 2
        low = least / 2 if shorter <= half_circle <= longer else _least(least, shorter, longer)
        high = max(_radius_between(shorter, most), _radius_between(longer, most))
        return RadiusBand(min(low, best), best, max(high, best))


@dataclass(frozen=True)
class ThroughPoints:
    """Three points of an arc, the middle one read square off the chord of the others.

    Args:
        chord_mm: between the ends, > 0. along_mm: of the middle point, along the chord from its start. off_mm: square
            off the chord, > 0. accuracy_mm: of that, either way, > 0.

    Raises:
        SurveyError: a figure out of range.

    >>> ThroughPoints(2438.4, 1219.2, 152.4, 3.175).band() == Reading(2438.4, 152.4, 3.175).band()
    True
    """

    chord_mm: float
    along_mm: float
    off_mm: float
    accuracy_mm: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.chord_mm) and self.chord_mm > 0 and self.off_mm > 0):
            raise SurveyError("points", "a radius through three points needs them apart and off a straight line")
        _finer(self.accuracy_mm, self.chord_mm, "the distance between the end points")

    @property
    def span_mm(self) -> float:
        return self.chord_mm

    @property
    def words_of_span(self) -> str:
        return "chord"

    def _at(self, off_mm: float) -> float:
        if off_mm <= TOLERANCE_MM:
            return math.inf
        above = (self.along_mm**2 - self.chord_mm * self.along_mm + off_mm**2) / (2 * off_mm)
        return math.hypot(self.chord_mm / 2, above)

    def band(self) -> RadiusBand:
        """The exact extremes over the middle point's distance from the chord.

        Source: the circle through two points and a third; least where the third sees them at a right angle.

        >>> ThroughPoints(1000.0, 500.0, 2.0, 3.0).band().is_bounded
        False
        """
        least, most, best = self.off_mm - self.accuracy_mm, self.off_mm + self.accuracy_mm, self._at(self.off_mm)
        square = self.along_mm * (self.chord_mm - self.along_mm)
        seen_square = square > 0 and max(least, 0.0) ** 2 <= square <= most**2
        low = self.chord_mm / 2 if seen_square else min(self._at(least), self._at(most))
        return RadiusBand(min(low, best), best, max(self._at(least), self._at(most), best))


def given_reading(given: ArcGiven, accuracy_mm: float) -> BandReading:
    """The figures an arc was given in, as a measurement with the accuracy of the tape.

    Args:
        given: the arc. accuracy_mm: of the tape, either way, mm, > 0; of a rise, a radius, an arc and its chord, or a
            middle point square off the chord. An angle and the chord of a rise are taken as they are.

    Returns:
        The reading.

    Raises:
        SurveyError: the figures give no arc, or the accuracy is not finer than what it belongs to.

    Source: plane geometry; which figures carry the error is our own convention, as in the trade's worked figures.

    >>> band = given_reading(ChordRise(96 * 25.4, 6 * 25.4), 25.4 / 8).band()
    >>> round(band.low_mm / 25.4, 1), round(band.high_mm / 25.4, 1)
    (191.1, 199.0)
    """
    match given:
        case ChordRise(chord, rise) | MatchedCurve(chord, rise):
            return Reading(chord, rise, accuracy_mm)
        case RadiusAngle(radius) | RadiusArcLength(radius) | RadiusChord(radius):
            return Swung(radius, accuracy_mm)
        case ArcLengthChord(arc, chord):
            return AlongAndAcross(arc, chord, accuracy_mm)
        case ThreePoints((first, middle, last)):
            given.solve()
            chord = math.dist(first, last)
            ux, uy = (last[0] - first[0]) / chord, (last[1] - first[1]) / chord
            dx, dy = middle[0] - first[0], middle[1] - first[1]
            return ThroughPoints(chord, dx * ux + dy * uy, abs(dy * ux - dx * uy), accuracy_mm)


def _radius_between(arc_mm: float, chord_mm: float) -> float:
    if chord_mm >= arc_mm * (1 - 1e-9):
        return math.inf
    return ArcLengthChord(arc_mm, chord_mm).solve().radius_mm


def _least(chord_mm: float, *arcs_mm: float) -> float:
    return min(_radius_between(arc_mm, chord_mm) for arc_mm in arcs_mm)


def _finer(accuracy_mm: float, figure_mm: float, what: str) -> None:
    if not (math.isfinite(accuracy_mm) and 0 < accuracy_mm < figure_mm):
        raise SurveyError(
            "tape_accuracy",
            f"the accuracy of the tape must be more than zero and finer than {what} of {figure_mm:g} mm; "
            f"{accuracy_mm:g} mm was given",
        )
