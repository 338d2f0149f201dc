"""The section through a margin."""

from decimal import Decimal
from xml.etree import ElementTree

import pytest

from catalog.drawings.lettering import PHONE_MM
from catalog.drawings.svg import DrawingInputError
from jobs.drawings.charts.margin_section import PAPER_MM, WIDE_MM, Fall, Level, margin_section

D = Decimal
LARKMOOR = [
    Fall("Hours", D("5.77"), "799.00"),
    Fall("Freight", D("1.34"), "185.00"),
    Fall("Price", D("1.17"), "162.50"),
]
QUOTED, MADE = Level(D("38.00"), "quoted"), Level(D("29.72"), "made")


def words_of(picture):
    root = ElementTree.fromstring(picture.svg)
    return [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")]


def test_each_fall_stands_with_its_points_and_its_amount():
    words = words_of(margin_section(QUOTED, LARKMOOR, MADE))
    assert [word for word in words if word.endswith(" %")] == ["38.00 %", "29.72 %"]
    assert {"5.77", "1.34", "1.17", "799.00", "185.00", "162.50"} <= set(words)


def test_readers_who_cannot_see_it_hear_the_same():
    title = ElementTree.fromstring(margin_section(QUOTED, LARKMOOR, MADE).svg).find("{http://www.w3.org/2000/svg}title")
    assert title.text == "38.00 % quoted, 29.72 % made: hours 5.77 lost, freight 1.34 lost, price 1.17 lost."


def test_a_phone_shows_the_three_largest_and_the_rest_as_one():
    falls = [*LARKMOOR, Fall("Late", D("0.50")), Fall("Wage", D("-0.30"))]
    words = words_of(margin_section(QUOTED, falls, Level(D("29.52"), "made"), PHONE_MM))
    # 0.50 - 0.30 = 0.20
    assert {"5.77", "1.34", "1.17", "0.20"} <= set(words) and "0.50" not in words


def test_a_gain_rises():
    words = words_of(margin_section(QUOTED, [Fall("Hours", D("-2.10"))], Level(D("40.10"), "expected")))
    assert "+2.10" in words


@pytest.mark.parametrize("width", [WIDE_MM, PHONE_MM, PAPER_MM])
def test_no_words_leave_the_sheet(width):
    picture = margin_section(QUOTED, LARKMOOR, MADE, width)
    root = ElementTree.fromstring(picture.svg)
    assert picture.width_mm == width
    assert all(0 <= float(element.get("x")) <= width for element in root.iter("{http://www.w3.org/2000/svg}text"))


def test_a_margin_that_did_not_move_is_level():
    assert "38.00 %" in words_of(margin_section(QUOTED, [], Level(D("38.00"), "made")))


def test_falls_that_do_not_lead_there_are_refused():
    with pytest.raises(DrawingInputError, match="do not lead from 38.00 to 29.72"):
        margin_section(QUOTED, LARKMOOR[:2], MADE)
