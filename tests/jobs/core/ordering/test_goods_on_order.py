"""When goods on order may be relied on. The days are counted on a paper calendar: 6 and 11 August 2027 are a Friday and
a Wednesday."""

from datetime import date
from decimal import Decimal

import pytest

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.goods_on_order import LineComing, goods_on_order

FRIDAY, WEDNESDAY = date(2027, 8, 6), date(2027, 8, 11)


def coming(expected, day=FRIDAY, key=1):
    return LineComing(key, Decimal(expected), day)


def stands(*lines, today=date(2027, 8, 2), need_by=WEDNESDAY):
    return goods_on_order(lines, need_by, cushion_workdays=3, firm=WorkCalendar("firm"), today=today)


def test_at_the_dock_on_friday_it_may_be_relied_on_from_wednesday():
    test = stands(coming(2))
    assert (test.usable_on, test.spare_workdays, test.is_late, test.is_overdue) == (WEDNESDAY, 0, False, False)


def test_what_is_overdue_is_counted_as_if_it_came_today():
    # Thursday 12 August and 3 working days is Tuesday 17, 4 working days after Wednesday 11.
    result = stands(coming(2), today=date(2027, 8, 12))
    assert (result.usable_on, result.spare_workdays, result.is_late) == (date(2027, 8, 17), -4, True)


def test_a_line_of_which_nothing_is_to_come_counts_no_more():
    result = stands(coming(0, date(2027, 9, 1)), coming(2, key=2))
    assert (result.last.key, result.spare_workdays) == (2, 0)
    assert stands(coming(0)).is_here and not stands(coming(0), today=date(2027, 9, 1)).is_late


@pytest.mark.parametrize(("day", "need_by"), [(None, WEDNESDAY), (FRIDAY, None)])
def test_without_a_day_nobody_says_that_it_is_in_time_or_late(day, need_by):
    result = stands(coming(2, day), need_by=need_by)
    assert result.spare_workdays is None and not result.is_late
