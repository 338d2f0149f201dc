"""Units: the one conversion table, and the lengths, angles and numbers people type and read.

Lengths inside the program are millimetres. Typed values are kept as exact ``Decimal`` until the geometry
takes them over as ``float``; fractions such as 6-1/2 are worked out exactly before anything is rounded.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from catalog.core.ground.refusal import InvalidValue
from catalog.core.ground.typed_marks import MarksError, with_plain_fractions, with_plain_points

System = Literal["imperial", "metric"]
BareLengthUnit = Literal["in", "mm"]

MM_PER_INCH = 25.4
"""One inch in millimetres, exact by definition (NIST Special Publication 811, appendix B)."""

TOLERANCE_MM = 1e-6
"""The one geometric tolerance: lengths closer than this, in mm, are the same length."""

MAX_LENGTH_MM = Decimal(10_000_000)
"""The longest length accepted as typed, 10 km: far past any wall, near enough to catch a slipped unit."""

MAX_NUMBER_CHARACTERS = 20
MAX_MEASURE_CHARACTERS = 40

_EXACT = Context(prec=28, rounding=ROUND_HALF_UP)
_WIDE = Context(prec=60, rounding=ROUND_HALF_UP)

_PLAIN = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)"
_NUMBER = rf"(?:[0-9]+(?:[ ]+|[ ]*-[ ]*)[0-9]+/[0-9]+|[0-9]+/[0-9]+|{_PLAIN})"
_NUMBER_RE = re.compile(rf"(?P<sign>[+-]?)(?P<body>{_NUMBER})")
_METRIC_RE = re.compile(rf"(?P<sign>[+-]?)(?P<body>{_NUMBER})[ ]*(?P<unit>mm|cm|m)", re.IGNORECASE)
_FEET_RE = re.compile(
    rf"(?P<sign>[+-]?)(?P<feet>{_NUMBER})[ ]*(?:'|feet|foot|ft\.?)"
    rf"(?:[ ]*[- ]?[ ]*(?P<inches>{_NUMBER})[ ]*(?:\"|inches|inch|in\.?)?)?",
    re.IGNORECASE,
)
_FEET_AND_INCHES_RE = re.compile(r"(?P<feet>[0-9]+)-(?P<inches>[0-9]+(?:[ -]+[0-9]+/[0-9]+)?)\"?")
_INCHES_RE = re.compile(rf"(?P<sign>[+-]?)(?P<inches>{_NUMBER})[ ]*(?:\"|inches|inch|in\.?)", re.IGNORECASE)
_ANGLE_RE = re.compile(
    rf"(?P<sign>[+-]?)(?P<degrees>{_NUMBER})[ ]*(?:°|degrees|degree|deg\.?)?"
    rf"(?:[ ]*(?P<minutes>{_PLAIN})[ ]*')?(?:[ ]*(?P<seconds>{_PLAIN})[ ]*\")?",
    re.IGNORECASE,
)
_MARKS = str.maketrans({"′": "'", "’": "'", "‘": "'", "ʹ": "'", "″": '"', "”": '"', "“": '"', "ʺ": '"', "–": "-"})


class UnitError(InvalidValue):
    """A number, length, angle or unit that cannot be used; the message says what would be right."""


@dataclass(frozen=True)
class Unit:
    """A unit of the conversion table.

    Args:
        name: the short name used in data, such as ``sqft``.
        dimension: what it measures: count, length, area, volume, mass or time.
        factor_to_base: how many base units one of it is, over 0 (base units: each, mm, sqm, ml, g, h).

    Raises:
        UnitError: the name or dimension is empty, or the factor is not a finite number over 0.

    Source: NIST Special Publication 811, appendix B (exact definitions).

    >>> Unit("gal", "volume", Decimal("3785.411784")).dimension
    'volume'
    """

    name: str
    dimension: str
    factor_to_base: Decimal

    def __post_init__(self) -> None:
        if not self.name or not self.dimension:
            raise UnitError("A unit needs a name and a dimension.")
        if not self.factor_to_base.is_finite() or self.factor_to_base <= 0:
            raise UnitError(f"Unit {self.name}: the factor must be over 0, not {self.factor_to_base}.")


def _table(*rows: tuple[str, str, str]) -> MappingProxyType[str, Unit]:
    return MappingProxyType({name: Unit(name, dimension, Decimal(factor)) for name, dimension, factor in rows})


UNITS = _table(
    ("each", "count", "1"),
    ("mm", "length", "1"),
    ("cm", "length", "10"),
    ("m", "length", "1000"),
    ("in", "length", "25.4"),
    ("ft", "length", "304.8"),
    ("sqm", "area", "1"),
    ("sqft", "area", "0.09290304"),
    ("ml", "volume", "1"),
    ("l", "volume", "1000"),
    ("floz", "volume", "29.5735295625"),
    ("gal", "volume", "3785.411784"),
    ("g", "mass", "1"),
    ("kg", "mass", "1000"),
    ("lb", "mass", "453.59237"),
    ("h", "time", "1"),
)
"""Every unit by name. Gallon and fluid ounce are the US ones (231 cubic inches; 1/128 of it)."""


def unit_named(name: str) -> Unit:
    """Find a unit of the table by its name.

    Args:
        name: a key of ``UNITS``, such as ``ft``.

    Returns:
        The unit.

    Raises:
        UnitError: there is no such unit; the message lists the names there are.

    Source: the table ``UNITS``.

    >>> unit_named("ft").factor_to_base
    Decimal('304.8')
    """
    unit = UNITS.get(name)
    if unit is None:
        raise UnitError(f"There is no unit {_shown(name)}; use one of {', '.join(UNITS)}.")
    return unit


def convert(value: Decimal, from_unit: str, to_unit: str) -> Decimal:
    """Convert a quantity between two units of one dimension.

    Args:
        value: the quantity in ``from_unit``, any sign, finite.
        from_unit: a name in ``UNITS``.
        to_unit: a name in ``UNITS`` of the same dimension.

    Returns:
        The quantity in ``to_unit``; exact where a decimal can be, otherwise rounded once at 28 digits.

    Raises:
        UnitError: an unknown unit, two dimensions, or a value that is not finite.

    Source: NIST Special Publication 811, appendix B.

    >>> convert(Decimal("5"), "gal", "l")
    Decimal('18.92705892')
    """
    source, target = unit_named(from_unit), unit_named(to_unit)
    if source.dimension != target.dimension:
        raise UnitError(
            f"Cannot turn {from_unit} ({source.dimension}) into {to_unit} ({target.dimension}): "
            "both units must measure the same thing."
        )
    if not value.is_finite() or abs(value.adjusted()) > 100:
        raise UnitError(f"Cannot convert {_shown(str(value))}: it must be an ordinary finite number.")
    return _decimal(Fraction(value) * Fraction(source.factor_to_base) / Fraction(target.factor_to_base))


def sqft_from_mm2(area_mm2: float) -> float:
    """Turn square millimetres into square feet.

    Args:
        area_mm2: an area in mm², any sign.

    Returns:
        The area in square feet.

    Raises:
        UnitError: the area is not finite.

    Source: 1 ft = 304.8 mm exactly (NIST Special Publication 811).

    >>> sqft_from_mm2(92903.04)
    1.0
    """
    return _finite(area_mm2, "area in mm²") / 92903.04


def sqm_from_mm2(area_mm2: float) -> float:
    """Turn square millimetres into square metres.

    Args:
        area_mm2: an area in mm², any sign.

    Returns:
        The area in square metres.

    Raises:
        UnitError: the area is not finite.

    Source: the SI.

    >>> sqm_from_mm2(2_500_000.0)
    2.5
    """
    return _finite(area_mm2, "area in mm²") / 1e6


def parse_number(text: str, *, what: str) -> Decimal:
    """Read a plain number as people type it: digits, one decimal point, or one fraction, and a sign.

    Args:
        text: at most 20 characters, such as ``-12.5``, ``1/2``, ``6-1/2`` or ``6 1/2``.
        what: the name of the field, used in the error.

    Returns:
        The number; a fraction that no decimal can hold (1/3) is rounded once at 28 digits. Never minus zero.

    Raises:
        UnitError: not text, too long, empty, other digits than 0 to 9, a comma, an exponent, an underscore,
            a word (nan, inf, true), or a fraction over zero.

    Source: own rule.

    >>> parse_number("6-1/2", what="Width")
    Decimal('6.5')
    """
    cleaned = _clean(text, what, "a number", MAX_NUMBER_CHARACTERS, "12.5 or 6-1/2")
    match = _NUMBER_RE.fullmatch(cleaned)
    if match is None:
        raise UnitError(f"{what}: {_shown(text)} is not a number; type it with the digits 0 to 9, like 12.5 or 6-1/2.")
    return _decimal(_signed(match["sign"], _fraction(match["body"], what, text)))


def parse_length(text: str, *, what: str, bare_unit: BareLengthUnit, allow_negative: bool = False) -> Decimal:
    """Read a length as people type it, in feet and inches or metric.

    Args:
        text: at most 40 characters: ``12' 6-1/2"``, ``12 ft 6 1/2 in``, ``12.5 ft``, ``6-1/2"``, ``3810 mm``,
            ``381 cm``, ``3.81 m``, or a bare number. Typographic primes and signs such as ``½`` are read as well,
            ``18-6`` as 18 feet 6 inches where bare lengths are inches, and ``3,81 m`` with its comma.
        what: the name of the field, used in the error.
        bare_unit: the unit of a number without one: ``in`` or ``mm``.
        allow_negative: whether a length under 0 may be given.

    Returns:
        The length in mm, exact (a fraction that no decimal can hold is rounded once at 28 digits).

    Raises:
        UnitError: not a length, negative where that has no meaning, 12 or more inches after feet, a part of a
            foot before inches, a comma that can be read two ways, or longer than 10 km.

    Source: 1 in = 25.4 mm exactly (NIST Special Publication 811).

    >>> parse_length("12' 6-1/2\\"", what="Chord", bare_unit="in")
    Decimal('3822.7')
    """
    if bare_unit not in ("in", "mm"):
        raise UnitError(f"{what}: a bare number must be in or mm, not {_shown(str(bare_unit))}.")
    example = "12' 6-1/2\", 150.5 in, 3810 mm or 3.81 m"
    cleaned = _clean(text, what, "a length", MAX_MEASURE_CHARACTERS, example, commas=True)
    cleaned = _plain(cleaned.translate(_MARKS).replace("''", '"'), what, bare_unit)
    length = _length_mm(cleaned, what, text, bare_unit)
    if length is None:
        raise UnitError(f"{what}: {_shown(text)} is not a length; type it like {example}.")
    if length < 0 and not allow_negative:
        raise UnitError(f"{what}: {_shown(text)} is under zero; this length must be 0 or more.")
    if abs(length) > Fraction(MAX_LENGTH_MM):
        raise UnitError(f"{what}: {_shown(text)} is over 10 km; check the unit.")
    return _decimal(length)


def parse_angle_deg(text: str, *, what: str, allow_negative: bool = False) -> Decimal:
    """Read an angle in degrees, or in degrees, minutes and seconds.

    Args:
        text: at most 40 characters: ``78.6``, ``78.6°``, ``78.6 deg``, ``25° 30'``, ``25° 30' 15"``.
        what: the name of the field, used in the error.
        allow_negative: whether an angle under 0 may be given.

    Returns:
        The angle in degrees.

    Raises:
        UnitError: not an angle, minutes or seconds of 60 or more, a part of a degree before minutes, negative
            where that has no meaning, or more than a full turn.

    Source: 1° = 60' = 3600" (the SI brochure, table 8).

    >>> parse_angle_deg("25° 30'", what="Deflection")
    Decimal('25.5')
    """
    cleaned = _clean(text, what, "an angle", MAX_MEASURE_CHARACTERS, "78.6 or 25° 30'").translate(_MARKS)
    match = _ANGLE_RE.fullmatch(cleaned)
    if match is None:
        raise UnitError(f"{what}: {_shown(text)} is not an angle; type it like 78.6 or 25° 30'.")
    angle = _fraction(match["degrees"], what, text)
    if (match["minutes"] or match["seconds"]) and angle.denominator != 1:
        raise UnitError(f"{what}: {_shown(text)} has a part of a degree and minutes; give one or the other.")
    for name, divisor in (("minutes", 60), ("seconds", 3600)):
        part = _fraction(match[name], what, text) if match[name] else Fraction(0)
        if part >= 60:
            raise UnitError(f"{what}: {_shown(text)} has {name} of 60 or more; they must be under 60.")
        angle += part / divisor
    angle = _signed(match["sign"], angle)
    if angle < 0 and not allow_negative:
        raise UnitError(f"{what}: {_shown(text)} is under zero; this angle must be 0 or more.")
    if abs(angle) > 360:
        raise UnitError(f"{what}: {_shown(text)} is more than a full turn; it must be at most 360 degrees.")
    return _decimal(angle)


def format_length(length_mm: float, system: System, denominator: int = 16) -> str:
    """Write a length for people: feet, inches and a fraction, or millimetres.

    Args:
        length_mm: a length in mm, any sign, finite.
        system: ``imperial`` or ``metric``.
        denominator: the finest fraction of an inch: 1, 2, 4, 8, 16, 32 or 64 (imperial only).

    Returns:
        Such as ``12' 6-1/2"`` (to the nearest fraction, halves up) or ``3822.7 mm`` (to the nearest 0.1 mm).

    Raises:
        UnitError: a length that is not finite, an unknown system, or another denominator.

    Source: the way a tape is read; own rule for rounding.

    >>> format_length(3822.7, "imperial")
    '12\\' 6-1/2"'
    """
    exact_mm = _exact(length_mm, "length in mm")
    _check_system(system)
    if system == "metric":
        return f"{_trimmed(_places(exact_mm, 1))} mm"
    if denominator not in (1, 2, 4, 8, 16, 32, 64):
        raise UnitError(f"A fraction of an inch is in halves to sixty-fourths, not {denominator}ths.")
    # Exact rational rounding: a half sixteenth must not fall either way with the last bit of a float.
    count = math.floor(abs(Fraction(exact_mm)) * 10 / 254 * denominator + Fraction(1, 2))
    feet, rest = divmod(count, 12 * denominator)
    inches, parts = divmod(rest, denominator)
    sign = "-" if exact_mm < 0 and count else ""
    fraction = str(Fraction(parts, denominator)) if parts else ""
    if fraction and (inches or feet):
        body = f"{inches}-{fraction}"
    else:
        body = fraction or str(inches)
    return f"{sign}{feet}' {body}\"" if feet else f'{sign}{body}"'


def format_inches(length_mm: float, places: int = 2) -> str:
    """Write a length in decimal inches.

    Args:
        length_mm: a length in mm, any sign, finite.
        places: digits after the point, 0 to 6.

    Returns:
        Such as ``132.60 in``, rounded half up.

    Raises:
        UnitError: a length that is not finite, or places out of range.

    Source: 1 in = 25.4 mm exactly (NIST Special Publication 811).

    >>> format_inches(3368.04)
    '132.60 in'
    """
    exact_mm = _exact(length_mm, "length in mm")
    if not 0 <= places <= 6:
        raise UnitError(f"Inches are written with 0 to 6 places, not {places}.")
    return f"{_places(_WIDE.divide(exact_mm, Decimal('25.4')), places)} in"


def format_measure(length_mm: float, system: System, places: int = 2) -> str:
    """Write a length for a sentence that compares figures: decimal inches, or millimetres.

    Args:
        length_mm: a length in mm, any sign, finite.
        system: ``imperial`` or ``metric``.
        places: digits after the point of inches, 0 to 6; millimetres are written to the nearest 0.1.

    Returns:
        Such as ``132.60 in`` or ``3368 mm``.

    Raises:
        UnitError: a length that is not finite, an unknown system, or places out of range.

    Source: 1 in = 25.4 mm exactly (NIST Special Publication 811).

    >>> format_measure(3368.04, "imperial"), format_measure(3368.04, "metric")
    ('132.60 in', '3368 mm')
    """
    _check_system(system)
    return format_inches(length_mm, places) if system == "imperial" else format_length(length_mm, "metric")


def format_both(length_mm: float) -> str:
    """Write a length in both systems, for a message that cannot know in which it was typed.

    Args:
        length_mm: a length in mm, any sign; one that is not a number is written as it is, for it is to be told.

    Returns:
        Such as ``50.00 in (1270 mm)``.

    Raises:
        nothing of its own.

    Source: 1 in = 25.4 mm exactly (NIST Special Publication 811).

    >>> format_both(1270.0)
    '50.00 in (1270 mm)'
    """
    if not math.isfinite(length_mm):
        return f"{length_mm} mm"
    return f"{format_inches(length_mm)} ({format_length(length_mm, 'metric')})"


def format_degrees(angle_rad: float, places: int = 1) -> str:
    """Write an angle in degrees, without its sign of degree.

    Args:
        angle_rad: an angle in rad, any sign, finite.
        places: digits after the point, 0 to 6.

    Returns:
        Such as ``11.3``, rounded half up.

    Raises:
        UnitError: an angle that is not finite, or places out of range.

    Source: 180 degrees are pi rad.

    >>> format_degrees(math.radians(11.25))
    '11.3'
    """
    if not 0 <= places <= 6:
        raise UnitError(f"Degrees are written with 0 to 6 places, not {places}.")
    return f"{_places(_exact(math.degrees(angle_rad), 'angle in rad'), places)}"


def format_area(area_mm2: float, system: System) -> str:
    """Write an area for people.

    Args:
        area_mm2: an area in mm², any sign, finite.
        system: ``imperial`` or ``metric``.

    Returns:
        Such as ``114.70 sq ft`` or ``10.66 m²``, rounded half up to two places.

    Raises:
        UnitError: an area that is not finite, or an unknown system.

    Source: 1 ft = 304.8 mm exactly (NIST Special Publication 811).

    >>> format_area(10_655_978.7, "imperial")
    '114.70 sq ft'
    """
    exact_mm2 = _exact(area_mm2, "area in mm²")
    _check_system(system)
    if system == "metric":
        return f"{_places(_WIDE.divide(exact_mm2, Decimal(1_000_000)), 2)} m²"
    return f"{_places(_WIDE.divide(exact_mm2, Decimal('92903.04')), 2)} sq ft"


def format_water(litres_per_sqm: float, system: System) -> str:
    """Write how much water is sprayed on an area, for people.

    Args:
        litres_per_sqm: zero or more, finite.
        system: ``imperial`` or ``metric``.

    Returns:
        Such as ``7.31 gal per 1,000 sq ft`` or ``0.298 l/m²``.

    Raises:
        UnitError: a figure that is not finite, or an unknown system.

    Source: 1 US gallon = 3.785411784 l, 1 sq ft = 0.09290304 m² (NIST Special Publication 811).

    >>> format_water(0.298, "imperial")
    '7.31 gal per 1,000 sq ft'
    """
    exact = Decimal(repr(_finite(litres_per_sqm, "water in l/m²")))
    _check_system(system)
    if system == "metric":
        return f"{_trimmed(exact)} l/m²"
    return f"{_places(_WIDE.divide(exact * Decimal('92.90304'), Decimal('3.785411784')), 2)} gal per 1,000 sq ft"


def _length_mm(cleaned: str, what: str, text: str, bare_unit: BareLengthUnit) -> Fraction | None:
    if bare := _NUMBER_RE.fullmatch(cleaned):
        return _signed(bare["sign"], _fraction(bare["body"], what, text)) * _factor(bare_unit)
    if bare_unit == "in" and (both := _FEET_AND_INCHES_RE.fullmatch(cleaned)):
        return _length_mm(f"{both['feet']}' {both['inches']}\"", what, text, bare_unit)
    if metric := _METRIC_RE.fullmatch(cleaned):
        return _signed(metric["sign"], _fraction(metric["body"], what, text)) * _factor(metric["unit"].lower())
    if plain := _INCHES_RE.fullmatch(cleaned):
        return _signed(plain["sign"], _fraction(plain["inches"], what, text)) * _factor("in")
    if match := _FEET_RE.fullmatch(cleaned):
        feet = _fraction(match["feet"], what, text)
        inches = _fraction(match["inches"], what, text) if match["inches"] else Fraction(0)
        if match["inches"] and feet.denominator != 1:
            raise UnitError(f"{what}: {_shown(text)} has a part of a foot and inches; give one or the other.")
        if inches >= 12:
            raise UnitError(f"{what}: {_shown(text)} has 12 or more inches after the feet; they must be under 12.")
        return _signed(match["sign"], feet * 12 + inches) * _factor("in")
    return None


def _plain(cleaned: str, what: str, bare_unit: BareLengthUnit) -> str:
    imperial = re.search(r"['\"]|f(?:oo|ee)?t|in", cleaned, re.IGNORECASE)
    metric = not imperial and (bare_unit == "mm" or "m" in cleaned.lower())
    try:
        return with_plain_points(with_plain_fractions(cleaned), metric=metric)
    except MarksError as error:
        raise UnitError(f"{what}: {error}.") from None


def _clean(text: str, what: str, kind: str, longest: int, example: str, *, commas: bool = False) -> str:
    if not isinstance(text, str):
        raise UnitError(f"{what}: {_shown(str(text))} is not {kind} given as text; type it like {example}.")
    if len(text) > longest:
        raise UnitError(f"{what}: {_shown(text)} is too long; {kind} takes at most {longest} characters.")
    cleaned = text.strip()
    if not cleaned:
        raise UnitError(f"{what}: nothing was given; type {kind} like {example}.")
    if "," in cleaned and not commas:
        raise UnitError(f"{what}: {_shown(text)} has a comma; use a point for decimals and nothing between thousands.")
    return cleaned


def _fraction(body: str, what: str, text: str) -> Fraction:
    whole_and_parts = re.split(r"[ ]*-[ ]*|[ ]+", body)
    whole = whole_and_parts[0] if len(whole_and_parts) == 2 else "0"
    last = whole_and_parts[-1]
    if "/" not in last:
        return Fraction(Decimal(last))
    upper, lower = (int(part) for part in last.split("/"))
    if lower == 0:
        raise UnitError(f"{what}: {_shown(text)} has a fraction over zero; the lower number must be 1 or more.")
    return int(whole) + Fraction(upper, lower)


def _signed(sign: str, value: Fraction) -> Fraction:
    return -value if sign == "-" else value


def _factor(name: str) -> Fraction:
    return Fraction(UNITS[name].factor_to_base)


def _decimal(value: Fraction) -> Decimal:
    numerator, denominator = Decimal(value.numerator), Decimal(value.denominator)
    return _EXACT.divide(numerator, denominator)


def _places(value: Decimal, places: int) -> Decimal:
    rounded = value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP, context=Context(prec=400))
    return abs(rounded) if rounded.is_zero() else rounded


def _trimmed(value: Decimal) -> str:
    text = format(value, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _exact(value: float, what: str) -> Decimal:
    """The figure without the last bits of a float, so that a half is a half whatever sum it came from."""
    return _places(Decimal(repr(_finite(value, what))), 9)


def _finite(value: float, what: str) -> float:
    if not math.isfinite(value):
        raise UnitError(f"The {what} must be a finite number, not {value}.")
    return float(value)


def _check_system(system: str) -> None:
    if system not in ("imperial", "metric"):
        raise UnitError(f"The system of units is imperial or metric, not {_shown(str(system))}.")


def _shown(text: str) -> str:
    return repr(text if len(text) <= 24 else f"{text[:24]}…")
