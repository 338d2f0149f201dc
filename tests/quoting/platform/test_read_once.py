"""What a page reads once, and what is never remembered."""

from itertools import count

from quoting.platform.read_once import one_page, read_anew, read_once


def test_within_a_page_the_same_is_read_once_and_outside_it_each_time():
    numbers = count(1)
    assert [read_once("number", lambda: next(numbers)) for _ in range(2)] == [1, 2]
    with one_page():
        assert [read_once("number", lambda: next(numbers)) for _ in range(2)] == [3, 3]
    with one_page():
        assert read_once("number", lambda: next(numbers)) == 4


def test_what_a_page_stores_rests_on_nothing_it_read_before_and_makes_it_read_anew():
    numbers = count(1)
    with one_page():
        assert read_once("number", lambda: next(numbers)) == 1
        with read_anew():
            assert [read_once("number", lambda: next(numbers)) for _ in range(2)] == [2, 3]
        assert read_once("number", lambda: next(numbers)) == 4
