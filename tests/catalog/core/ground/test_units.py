"""Reading, writing and converting what people type.

Exact definitions: NIST Special Publication 811, appendix B (inch 25.4 mm, US gallon 3.785 411 784 l, pound
0.453 592 37 kg, square foot 0.092 903 04 m²).
"""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.plain_text import half_up
from catalog.core.ground.units import (
    UNITS,
    Unit,
    UnitError,
    convert,
    format_area,
    format_degrees,
    format_inches,
    format_length,
    parse_angle_deg,
    parse_length,
    parse_number,
    sqft_from_mm2,
    sqm_from_mm2,
)


def length(text: str, bare_unit: str = "in", **options: bool) -> Decimal:
    return parse_length(text, what="Chord", bare_unit=bare_unit, **options)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12' 6-1/2\"", "3822.7"),
        ("12'6-1/2\"", "3822.7"),
        ("12'-6 1/2\"", "3822.7"),
        ("12′ 6-1/2″", "3822.7"),
        ("12’ 6-1/2”", "3822.7"),
        ("12' 6-1/2''", "3822.7"),
        ("12 ft 6 1/2 in", "3822.7"),
        ("12 feet 6-1/2 inches", "3822.7"),
        ("12' 6.5", "3822.7"),
        ("12' 6½\"", "3822.7"),
        ("12'6 ½", "3822.7"),
        ("12-6½", "3822.7"),
        ("12-6 1/2", "3822.7"),
        ("12–6 1/2", "3822.7"),
        ("18-6", "5638.8"),
        ("⅜", "9.525"),
        ("¼ in", "6.35"),
        ("12.5 ft", "3810"),
        ("12.5'", "3810"),
        ("14'", "4267.2"),
        ("150.5", "3822.7"),
        ("150-1/2", "3822.7"),
        ("150.5 in", "3822.7"),
        ('6-1/2"', "165.1"),
        ('1/16"', "1.5875"),
        ("3810 mm", "3810"),
        ("3,81 m", "3810"),
        ("3.810,5 mm", "3810.5"),
        ("3,810.5 mm", "3810.5"),
        ("3810MM", "3810"),
        ("381 cm", "3810"),
        ("3.81 m", "3810"),
        ("3.81m", "3810"),
        (" 0 ", "0"),
        (".5 in", "12.7"),
    ],
)
def test_a_length_is_read_exactly(text, mm):
    assert length(text) == Decimal(mm)


def test_a_bare_number_takes_the_firms_unit():
    assert (length("100", "in"), length("100", "mm")) == (Decimal(2540), Decimal(100))


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "nothing was given"),
        ("   ", "nothing was given"),
        ("150,5", "type 150.5 or 1505"),
        ("1,000 mm", "type 1.000 or 1000"),
        ("3,810 mm", "type 3.810 or 3810"),
        ("6,5 in", "type 6.5 or 65"),
        ("18-12", "under 12"),
        ("1,2,3 mm", "type 123"),
        ("-5", "under zero"),
        ("12' 14\"", "under 12"),
        ("12.5' 6\"", "one or the other"),
        ('1/0"', "lower number must be 1 or more"),
        ("10001 m", "over 10 km"),
        ("nan", "not a length"),
        ("inf in", "not a length"),
        ("1e3", "not a length"),
        ("1_000", "not a length"),
        ("１２", "not a length"),
        ("١٢", "not a length"),
        ("true", "not a length"),
        ("1/2/3", "not a length"),
        ("12 yd", "not a length"),
        ('12\' 6" 3"', "not a length"),
        ("3 m 81 cm", "not a length"),
        ("--5", "not a length"),
        ("9" * 5000, "too long"),
        ("12\n6", "not a length"),
        ("<b>", "not a length"),
    ],
)
def test_a_wrong_length_is_refused_with_the_field_and_the_reason(text, reason):
    with pytest.raises(UnitError, match=rf"^Chord: .*{reason}") as caught:
        length(text)
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize("value", [True, 12, 12.5, None, Decimal(3), ["12"]])
def test_what_is_not_text_is_refused(value):
    with pytest.raises(UnitError, match="given as text"):
        parse_number(value, what="Width")


def test_feet_and_inches_by_a_hyphen_are_read_where_bare_lengths_are_inches_alone():
    """In millimetres 18-6 could be a range."""
    with pytest.raises(UnitError, match="is not a length; type it like 12' 6-1/2"):
        length("18-6", "mm")


@settings(deadline=None)
@given(st.integers(0, 6 * 10**6), st.sampled_from(["in", "mm"]))
def test_a_length_that_was_printed_is_read_back_the_same(sixteenths, bare_unit):
    mm = Decimal(sixteenths) * Decimal("1.5875")
    assert length(format_length(float(mm), "imperial"), bare_unit) == mm
    tenths = Decimal(sixteenths) / 10
    assert length(format_length(float(tenths), "metric"), bare_unit) == tenths


def test_an_unknown_bare_unit_is_refused():
    with pytest.raises(UnitError, match="in or mm, not 'ft'"):
        length("5", "ft")


def test_a_negative_length_is_read_where_it_is_allowed():
    assert length('-6-1/2"', allow_negative=True) == Decimal("-165.1")


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("12.5", "12.5"),
        ("+3", "3"),
        ("-3", "-3"),
        ("5.", "5"),
        (".25", "0.25"),
        ("007", "7"),
        ("3/4", "0.75"),
        ("6-1/2", "6.5"),
        ("6 1/2", "6.5"),
        ("-6-1/2", "-6.5"),
    ],
)
def test_a_number_is_read_exactly(text, number):
    assert parse_number(text, what="Width") == Decimal(number)


@pytest.mark.parametrize(
    "text",
    [
        "nan",
        "-inf",
        "Infinity",
        "1e300",
        "1E5",
        "1_000",
        "１",
        "²",
        "½",
        "True",
        "0x10",
        "1 2",
        "1.2.3",
        "6-1",
        "",
    ],
)
def test_what_is_not_a_plain_number_is_refused(text):
    with pytest.raises(UnitError, match=r"^Width: "):
        parse_number(text, what="Width")


def test_a_number_of_21_characters_is_refused():
    assert parse_number("1" * 20, what="Width") == Decimal("1" * 20)
    with pytest.raises(UnitError, match="at most 20 characters"):
        parse_number("1" * 21, what="Width")


def test_minus_zero_is_read_as_zero():
    assert str(parse_number("-0", what="Width")) == "0"
    assert str(length("-0", allow_negative=True)) == "0"


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("78.6", "78.6"),
        ("78.6°", "78.6"),
        ("78.6 deg", "78.6"),
        ("25° 30'", "25.5"),
        ("25°30′", "25.5"),
        ("25° 30' 36\"", "25.51"),
        ("360", "360"),
    ],
)
def test_an_angle_is_read(text, degrees):
    assert parse_angle_deg(text, what="Sweep") == Decimal(degrees)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("361", "full turn"),
        ("-10", "under zero"),
        ("25° 60'", "minutes of 60"),
        ("25.5° 30'", "one or the other"),
        ("ninety", "not an angle"),
        ("1,5", "comma"),
    ],
)
def test_a_wrong_angle_is_refused(text, reason):
    with pytest.raises(UnitError, match=rf"^Sweep: .*{reason}"):
        parse_angle_deg(text, what="Sweep")


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (3822.7, "12' 6-1/2\""),
        (3657.6, "12' 0\""),
        (3670.3, "12' 0-1/2\""),
        (12.7, '1/2"'),
        (0.0, '0"'),
        (-165.1, '-6-1/2"'),
        (-0.1, '0"'),
        (304.79, "1' 0\""),
        (1.5875 / 2, '1/16"'),
    ],
)
def test_a_length_is_written_in_feet_inches_and_sixteenths(mm, text):
    assert format_length(mm, "imperial") == text


def test_a_length_is_written_in_millimetres():
    assert [format_length(mm, "metric") for mm in (3810.0, 12.7, -0.04, 3.25)] == [
        "3810 mm",
        "12.7 mm",
        "0 mm",
        "3.3 mm",
    ]


def test_the_dental_radius_and_area_are_written_as_the_worked_example_gives_them():
    # Dental example: radius 132.600 in, convex area 114.70 sq ft.
    assert format_inches(132.6 * 25.4, 3) == "132.600 in"
    assert format_area(114.70 * 92903.04, "imperial") == "114.70 sq ft"
    assert format_area(10_655_978.7, "metric") == "10.66 m²"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_never_written(value):
    for write in (
        lambda: format_length(value, "metric"),
        lambda: format_inches(value),
        lambda: format_area(value, "imperial"),
        lambda: sqft_from_mm2(value),
        lambda: sqm_from_mm2(value),
    ):
        with pytest.raises(UnitError, match="finite"):
            write()


def test_unknown_systems_denominators_and_places_are_refused():
    with pytest.raises(UnitError, match="imperial or metric, not 'nautical'"):
        format_length(1.0, "nautical")
    with pytest.raises(UnitError, match="not 10ths"):
        format_length(1.0, "imperial", 10)
    with pytest.raises(UnitError, match="not 7"):
        format_inches(1.0, 7)


@pytest.mark.parametrize(
    ("value", "from_unit", "to_unit", "expected"),
    [
        ("1", "in", "mm", "25.4"),
        ("1", "ft", "in", "12"),
        ("1", "m", "mm", "1000"),
        ("1", "sqft", "sqm", "0.09290304"),
        ("1", "gal", "l", "3.785411784"),
        ("1", "gal", "floz", "128"),
        ("1", "lb", "g", "453.59237"),
        ("1", "kg", "g", "1000"),
        ("1", "l", "ml", "1000"),
        ("1", "cm", "mm", "10"),
        ("7", "h", "h", "7"),
        ("7", "each", "each", "7"),
    ],
)
def test_units_convert_by_their_exact_definitions(value, from_unit, to_unit, expected):
    assert convert(Decimal(value), from_unit, to_unit) == Decimal(expected)


def test_units_of_two_dimensions_do_not_convert():
    with pytest.raises(UnitError, match=r"ft \(length\) into gal \(volume\)"):
        convert(Decimal(1), "ft", "gal")


@pytest.mark.parametrize("value", ["NaN", "Infinity", "1E+999999", "1E-999999"])
def test_what_is_not_an_ordinary_number_does_not_convert(value):
    with pytest.raises(UnitError, match="ordinary finite number"):
        convert(Decimal(value), "ft", "in")


def test_an_unknown_unit_is_refused_with_the_list():
    with pytest.raises(UnitError, match="no unit 'furlong'; use one of each, mm"):
        convert(Decimal(1), "furlong", "mm")


@pytest.mark.parametrize(("name", "dimension", "factor"), [("", "length", "1"), ("x", "", "1"), ("x", "y", "0")])
def test_a_unit_that_cannot_be_is_refused(name, dimension, factor):
    with pytest.raises(UnitError):
        Unit(name, dimension, Decimal(factor))


@settings(deadline=None)
@given(st.sampled_from(sorted(UNITS)), st.sampled_from(sorted(UNITS)), st.decimals(-1000, 1000, places=3))
def test_converting_there_and_back_changes_nothing(entry, two, value):
    if UNITS[entry].dimension != UNITS[two].dimension:
        with pytest.raises(UnitError):
            convert(value, entry, two)
    else:
        assert abs(convert(convert(value, entry, two), two, entry) - value) < Decimal("1e-20")


@settings(deadline=None)
@given(st.floats(0, 1e6), st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_a_written_length_reads_back_within_half_its_fraction(mm, denominator):
    written = format_length(mm, "imperial", denominator)
    assert abs(float(length(written)) - mm) <= 25.4 / denominator / 2 + 1e-9


@settings(deadline=None)
@given(st.floats(0, 1e6))
def test_a_metric_length_reads_back_within_half_a_tenth(mm):
    assert abs(float(length(format_length(mm, "metric"))) - mm) <= 0.05 + 1e-9


def outcome(read, text: str) -> str | Decimal:
    try:
        return read(text)
    except UnitError as problem:
        return str(problem)


@settings(deadline=None)
@given(st.text(max_size=50))
def test_any_text_is_read_or_refused_in_a_sentence(text):
    for read in (
        lambda typed: parse_number(typed, what="Field"),
        length,
        lambda typed: parse_angle_deg(typed, what="Field"),
    ):
        result = outcome(read, text)
        assert result.endswith(".") if isinstance(result, str) else result.is_finite()


@settings(deadline=None)
@given(
    st.integers(0, 999),
    st.integers(0, 11),
    st.integers(0, 15),
    st.sampled_from(["{f}' {i}-{n}/16\"", "{f} ft {i} {n}/16 in", "{f}'{i}-{n}/16", "{f}′ {i} {n}/16″"]),
)
def test_every_way_of_writing_feet_and_inches_means_the_same(feet, inches, parts, form):
    text = form.format(f=feet, i=inches, n=parts)
    assert length(text) == (feet * 12 + inches + Decimal(parts) / 16) * Decimal("25.4")


@pytest.mark.parametrize(
    ("message", "words"),
    [
        (format_inches(13.375 * 25.4), "13.38 in"),  # 339.72499999999997 as a float: a hair under the half
        (format_inches(25.875 * 25.4), "25.88 in"),
        (format_inches(13.125 * 25.4), "13.13 in"),
        (format_length(0.05, "metric"), "0.1 mm"),
        (format_length(25.4 / 32, "imperial"), '1/16"'),
        (format_degrees(math.radians(11.25)), "11.3"),
        (format_degrees(math.radians(22.25)), "22.3"),
        (str(half_up(Decimal("0.25"), 1)), "0.3"),
        (str(half_up(Decimal("17.365"), 2)), "17.37"),
    ],
)
def test_a_half_is_written_upwards_whatever_it_is_a_half_of(message, words):
    assert message == words
