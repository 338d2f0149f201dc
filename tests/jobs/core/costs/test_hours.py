"""Hours as plain rows; the figures of Orrinsby Hall are worked by hand: 48.00 an hour to 16 May 2027, 49.50 from 17."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.refusal import EntryError
from jobs.core.costs.hours import HourRow, StepHoursLeft, hours_by_step, rounded_minutes
from jobs.core.costs.tags import note_number, note_tag, read_tag, tag_words

MAY = [
    (5, "layout", 9, "48.00", ""),
    (12, "framing", 42, "48.00", ""),
    (18, "framing", 8, "49.50", ""),
    (24, "boards", 30, "49.50", ""),
    (26, "niche", 6, "49.50", "note 1"),
    (27, None, 4, "49.50", "note 2"),
    (28, "boards", 2, "49.50", "rework"),
]
ROWS = [
    HourRow(str(nth), date(2027, 5, day), "Crew", step, 60 * hours, Decimal(rate), tag)
    for nth, (day, step, hours, rate, tag) in enumerate(MAY)
]


def test_the_hours_of_orrinsby_hall_cost_what_was_worked_out_by_hand():
    # 432.00 + 2,016.00 + 396.00 + 1,485.00 + 297.00 + 198.00 + 99.00
    assert (sum(row.minutes for row in ROWS) / 60, sum(row.cost for row in ROWS)) == (101, Decimal("4923.00"))


@pytest.mark.parametrize(
    ("minutes", "rate", "cost"),
    # 50 min at 47.13 are 39.275; half a cent goes away from nought, both ways.
    [(50, "47.13", "39.28"), (-50, "47.13", "-39.28"), (1, "47.13", "0.79"), (0, "47.13", "0.00")],
)
def test_a_stretch_costs_its_minutes_at_its_rate_in_whole_cents(minutes, rate, cost):
    assert HourRow("1", date(2027, 5, 5), "Sam", "layout", minutes, Decimal(rate)).cost == Decimal(cost)


def test_hours_of_a_step_are_planned_spent_and_left():
    left = StepHoursLeft("boards", 33 * 60, False, "Lead", date(2027, 5, 30))
    planned = {"layout": 8 * 60, "framing": 46 * 60, "boards": 58 * 60, "coat-1": 44 * 60}
    steps = {hour.step: hour for hour in hours_by_step(planned, ROWS, [left])}
    assert [(key, hour.spent // 60) for key, hour in steps.items()] == [
        ("layout", 9),
        ("framing", 50),
        ("boards", 32),
        ("coat-1", 0),
        ("niche", 6),
        ("", 4),
    ]
    # Nobody said what of setting out is left and all planned is spent: not known, and not nought.
    assert [steps[key].left_minutes for key in ("layout", "boards", "coat-1")] == [None, 33 * 60, 44 * 60]


@pytest.mark.parametrize(
    ("typed", "step", "counts"),
    [(7, 15, 0), (8, 15, 15), (3, 6, 6), (2, 6, 0), (242, 5, 240), (243, 5, 245), (1439, 15, 1440), (433, 1, 433)],
)
def test_minutes_are_rounded_to_the_nearest_both_ways(typed, step, counts):
    assert rounded_minutes(typed, step) == counts


@given(st.integers(1, 1440), st.sampled_from([1, 5, 6, 15]))
def test_rounding_moves_no_stretch_by_more_than_half_a_step_and_is_done_once(minutes, step):
    counts = rounded_minutes(minutes, step)
    assert (counts % step, 2 * abs(counts - minutes) <= step) == (0, True)
    assert counts == 0 or rounded_minutes(counts, step) == counts


@pytest.mark.parametrize("minutes", [0, -60, 1441])
def test_no_stretch_of_a_day_has_such_minutes(minutes):
    with pytest.raises(EntryError, match="not from 1 to 1440"):
        rounded_minutes(minutes, 1)


@pytest.mark.parametrize("text", ["note", "note 0", "note two", "paid", "note 123456", "rework late", "x" * 500])
def test_a_tag_that_is_none_says_which_there_are(text):
    with pytest.raises(EntryError, match="rework, late, unforeseen, or note and its number"):
        read_tag(text)


@given(st.integers(1, 99_999))
def test_the_tag_of_a_note_names_its_number(number):
    assert note_number(read_tag(note_tag(number))) == number


def test_a_tag_is_read_whatever_its_capitals():
    assert [read_tag(word) for word in (" REWORK ", "Note 12", "")] == ["rework", "note 12", ""]
    assert tag_words("note 12") == "Change note 12"


@pytest.mark.parametrize(("percent", "minutes"), [(40, 2700), (24, None), (None, None), (25, 5400)])
def test_from_a_quarter_on_the_pace_says_what_is_left(percent, minutes):
    # 30 h by the day it is said, 3 h of rework apart: 30 x 60 / 40 = 45 h; at a quarter 30 x 75 / 25 = 90 h.
    day = date(2027, 5, 24)
    rows = [
        HourRow("1", day, "Ines", "boards", 1800, None),
        HourRow("2", day, "Ines", "boards", 180, None, "rework"),
        HourRow("3", date(2027, 5, 25), "Ines", "boards", 480, None),
    ]
    (hour,) = hours_by_step({"boards": 3480}, rows, [StepHoursLeft("boards", 1980, False, "Ola", day, percent)])
    assert (hour.left_minutes, hour.at_this_pace) == (1980, minutes)
