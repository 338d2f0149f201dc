from dataclasses import replace

import pytest

from quoting.platform.papers.parts import SheetError
from quoting.platform.papers.typeset import paper_html
from tests.support.paper_reading import open_paper, page_texts, whole_text
from tests.support.paper_samples import boutique_order_dates


def test_the_dates_of_the_boutique_are_printed(order_dates_bytes: bytes) -> None:
    """Order-by and decide-by days of the invented boutique job, worked by hand in the project's examples."""
    words = whole_text(order_dates_bytes)
    for day in ("Mon 8 Mar 2027", "Mon 1 Mar 2027", "Tue 6 Apr 2027", "Tue 30 Mar 2027"):
        assert day in words


def test_the_row_with_the_fewest_days_in_hand_comes_first(order_dates_bytes: bytes) -> None:
    words = whole_text(order_dates_bytes)
    assert words.index("Shadow reveal at the ceiling") < words.index("Base 7 in left")


def test_a_late_row_comes_before_one_that_is_due_today() -> None:
    paper = boutique_order_dates()
    late, due = (replace(paper.rows[0], item=f"item {days}", days_in_hand=days) for days in (-4, 0))
    ordered = replace(paper, rows=(due, *paper.rows, late)).rows_by_days_in_hand
    assert [row.days_in_hand for row in ordered] == [-4, 0, 2, 22]


def test_what_needs_a_decision_is_said_in_words_too(order_dates_bytes: bytes) -> None:
    assert "decide now" in whole_text(order_dates_bytes)


def test_an_item_that_cannot_be_dated_is_named_and_not_dated(order_dates_bytes: bytes) -> None:
    words = whole_text(order_dates_bytes)
    assert "Cannot be dated yet" in words
    assert "no lead time is on record" in words


def test_the_sheet_lies_and_says_its_page(order_dates_bytes: bytes) -> None:
    box = open_paper(order_dates_bytes).pages[0].mediabox
    assert box.width > box.height
    assert "Page 1 of 1" in page_texts(order_dates_bytes)[0]


def test_a_job_with_nothing_to_order_says_so() -> None:
    html = paper_html(replace(boutique_order_dates(), rows=(), gaps=(), time_line=None))
    assert "Nothing on this job has to be ordered ahead." in html


def test_a_job_with_only_undated_items_does_not_say_nothing_is_to_be_ordered() -> None:
    html = paper_html(replace(boutique_order_dates(), rows=(), time_line=None))
    assert "Nothing on this job" not in html


@pytest.mark.parametrize("days", [2.5, None, True, "2"])
def test_days_in_hand_that_are_not_whole_days_are_refused(days: object) -> None:
    with pytest.raises(SheetError, match="whole number of working days"):
        replace(boutique_order_dates().rows[0], days_in_hand=days)
