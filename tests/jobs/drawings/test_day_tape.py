from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.drawings.svg import DrawingInputError
from jobs.drawings.charts.on_screen import SIZES_PX, Closure
from jobs.drawings.day_tape import Tape, TapeMark, day_tape_svg
from tests.jobs.drawings.screens import SIZES, is_clear, said, strokes, title, working_days

TODAY = date(2026, 11, 30)
SHUT = frozenset({date(2026, 12, 25), date(2026, 12, 28), date(2027, 1, 1)})
DAYS = working_days(TODAY, 24, SHUT)
TOLLARD = Closure(date(2026, 12, 21), date(2027, 1, 1), "Tollard shut 21 Dec to 1 Jan")
MARKS = (
    TapeMark(date(2026, 12, 3), "Larkmoor signs", 5),
    TapeMark(date(2026, 12, 4), "claim 2 pieces", 4, "claim"),
    TapeMark(date(2026, 12, 10), "order base, track, board", 3, "order 2"),
)


def test_a_mark_says_its_working_days_in_hand():
    # Thu 3 Dec is Tue, Wed, Thu after Mon 30 Nov: 3. Thu 10 Dec is a week later: 8.
    svg = day_tape_svg(Tape(DAYS, MARKS))
    assert "3 days: Larkmoor signs, Thu 3 Dec 2026. 4 days: claim 2 pieces" in title(svg)
    words = said(svg)
    assert words[words.index("order base, track, board") - 1] == "8"


def test_the_day_each_week_begins_is_named():
    # The firm is shut on Mon 28 Dec, so that week begins on Tuesday.
    named = [s for s in said(day_tape_svg(Tape(DAYS))) if s.startswith(("Mon", "Tue"))]
    assert named == ["Mon 7 Dec", "Mon 14 Dec", "Mon 21 Dec", "Tue 29 Dec", "Mon 4 Jan"]


def test_a_closure_is_hatched_with_its_words():
    svg = day_tape_svg(Tape(DAYS, closures=(TOLLARD,)))
    assert "Tollard shut 21 Dec to 1 Jan" in said(svg) and len(strokes(svg, "hatch")) == 1
    # Seven days of the firm's lie in it, a working day being 1178 / 24.5 px.
    xs = strokes(svg, "hatch")[0][::2]
    assert max(xs) - min(xs) == pytest.approx(7 * 1178 / 24.5, abs=6)


def test_what_is_late_is_a_red_arrow_before_today():
    svg = day_tape_svg(Tape(DAYS, late=1))
    assert "1 late" in said(svg) and max(strokes(svg, "late-mark")[0][::2]) < 46
    assert "late" not in title(day_tape_svg(Tape(DAYS)))


def test_words_that_would_meet_go_to_a_second_row_and_then_the_lightest_give_way():
    crowd = tuple(TapeMark(DAYS[3], f"a long word, weight {w}", w) for w in (1, 2, 3, 4, 5))
    words = said(day_tape_svg(Tape(DAYS, crowd)))
    assert "a long word, weight 5" in words and "a long word, weight 1" not in words
    assert title(day_tape_svg(Tape(DAYS, crowd))).count("weight") == 5


def test_a_phone_shows_the_near_days_in_short_words():
    words = said(day_tape_svg(Tape(DAYS, MARKS), "phone"))
    assert {"claim", "order 2", "Larkmoor signs", "Mon 14 Dec"} <= set(words) and "Mon 21 Dec" not in words


def test_sizes_of_the_style_sheet_are_those_it_is_laid_out_by_and_none_is_under_12_px():
    assert SIZES == SIZES_PX and min(SIZES.values()) >= 12


def test_a_tape_needs_its_days_in_order():
    with pytest.raises(DrawingInputError, match="24 working days"):
        day_tape_svg(Tape(DAYS[:5]))


DUE = st.builds(TapeMark, st.sampled_from(DAYS), st.text("abc defgh", max_size=40), st.integers(1, 5))


@given(
    st.lists(DUE, max_size=12).map(tuple),
    st.lists(st.builds(Closure, st.sampled_from(DAYS), st.just(DAYS[-1]), st.just(TOLLARD.words)), max_size=3).map(
        tuple
    ),
    st.integers(0, 12),
    st.sampled_from(["desk", "phone"]),
)
def test_words_of_a_tape_never_meet(marks, closures, late, width):
    assert is_clear(day_tape_svg(Tape(DAYS, marks, closures, late), width))
