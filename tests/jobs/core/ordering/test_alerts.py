import os
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.workdays import WorkCalendar
from jobs.core.ordering.alerts import (
    AlertError,
    AlertKey,
    AlertPlan,
    Watched,
    comes_up_on,
    due_alerts,
    last_day_watched,
    still_holds,
    week_begins,
    weekly_list_due,
)
from jobs.core.ordering.order_by import days_in_hand
from tests.jobs.core import alert_days
from tests.jobs.core.alert_days import CALENDAR, DAY, DAYS, PLAN, ZONES

# make faults asks for all zones and all days; the suite runs two zones over the half year with 29 February.
WHOLE = bool(os.environ.get("CURVEWRIGHT_FAULT_ROUNDS"))
SOME_ZONES = ZONES if WHOLE else ("America/Santiago", "Europe/Lisbon")
HOW_LONG, HOW_MANY = (DAYS, 200) if WHOLE else (150, 60)
BASE = Watched("J-1", "BASE", date(2026, 12, 10), date(2026, 12, 3))
SHOP = WorkCalendar("shop")


def wall(*parts):
    """A moment as the firm's own calendar and clock show it."""
    return datetime(*parts, tzinfo=ZoneInfo("America/New_York"))


@pytest.mark.faults
@pytest.mark.parametrize("zone", SOME_ZONES)
def test_each_alert_comes_once_in_its_time_whatever_happens_to_the_schedulers(zone):
    items = alert_days.some_items(HOW_MANY, HOW_LONG)
    schedulers = alert_days.run(items, ZoneInfo(zone), HOW_LONG)
    assert alert_days.wrongs(schedulers, items, ZoneInfo(zone), HOW_LONG) == []


@pytest.mark.faults
def test_without_the_rule_that_rows_are_unique_alerts_come_twice():
    """The control of the test above."""
    zone, items = ZoneInfo("Europe/Lisbon"), alert_days.some_items(20, 60)
    stored = alert_days.run(items, zone, 60, guarded=False)
    result = alert_days.wrongs(stored, items, zone, 60)
    assert len(result) >= 20 and all(text.startswith("told 2 times") for text in result)


def test_a_reckoning_by_the_day_of_another_zone_is_found_out():
    """The control of the days: at Lisbon's midnight it is the day before in Santiago."""
    items = alert_days.some_items(20, 60)
    stored = alert_days.run(items, ZoneInfo("Europe/Lisbon"), 60)
    assert alert_days.wrongs(stored, items, ZoneInfo("America/Santiago"), 60) != []


def told_on(day, item=BASE, known=frozenset(), calendar=SHOP):
    finding = due_alerts([item], day, calendar, AlertPlan(), known)
    return [alert.key.threshold for alert in finding.due if alert.told]


# Worked examples, part B: order by Thu 10 Dec 2026, decide by Thu 3 Dec; the days counted on a calendar by hand.
@pytest.mark.parametrize(
    ("day", "message"),
    [
        (date(2026, 11, 25), []),
        (date(2026, 11, 26), ["10"]),
        (date(2026, 12, 3), ["decide", "5"]),
        (date(2026, 12, 9), ["decide", "1"]),
        (date(2026, 12, 10), ["0"]),
        (date(2026, 12, 16), ["late"]),
    ],
)
def test_what_is_first_seen_on_a_day_is_told_by_its_tightest_alert(day, message):
    assert told_on(day) == message


def test_what_was_told_is_not_told_again():
    everything = frozenset(alert.key for alert in due_alerts([BASE], date(2026, 12, 9), SHOP, PLAN, frozenset()).due)
    assert told_on(date(2026, 12, 9), known=everything) == []


def test_an_alert_added_further_ahead_says_nothing_of_an_item_told_closer_by():
    known = frozenset(alert.key for alert in due_alerts([BASE], date(2026, 12, 9), SHOP, PLAN, frozenset()).due)
    finding = due_alerts([BASE], date(2026, 12, 9), SHOP, AlertPlan((15, 10, 5, 1)), known)
    assert [(alert.key.threshold, alert.told) for alert in finding.due] == [("15", False)]


def test_an_item_that_cannot_be_dated_silences_no_other():
    finding = due_alerts([Watched("J-1", "BAD", date.max), BASE], date(2026, 12, 3), SHOP, PLAN, frozenset())
    assert [trouble.material for trouble in finding.troubles] == ["BAD"]
    assert "cannot be dated" in finding.troubles[0].sentence
    assert {alert.key.material for alert in finding.due} == {"BASE"}


def test_a_decide_by_day_after_the_order_by_day_is_refused():
    with pytest.raises(AlertError, match="Fri 11 Dec 2026, which is after"):
        Watched("J-1", "BASE", date(2026, 12, 10), date(2026, 12, 11))


@pytest.mark.parametrize("days", [(0,), (61,), (True,), (1, 5), (5, 5), (9, 8, 7, 6, 5, 4, 3)])
def test_days_ahead_that_make_no_plan_are_refused(days):
    with pytest.raises(AlertError):
        AlertPlan(days)


@given(day=st.dates(date(2026, 1, 1), date(2029, 1, 1)), workdays=st.integers(1, 60))
def test_an_alert_comes_up_on_the_first_day_with_so_many_days_in_hand(day, workdays):
    first = comes_up_on(str(workdays), day, CALENDAR)
    assert days_in_hand(first, day, CALENDAR) <= workdays < days_in_hand(first - DAY, day, CALENDAR)


@given(day=st.dates(date(2027, 12, 1), date(2028, 12, 1)), ahead=st.integers(0, 40))
def test_what_is_read_holds_everything_that_can_be_due(day, ahead):
    until = last_day_watched(day, CALENDAR, PLAN)
    item = Watched("J", "M", until + (ahead + 1) * DAY)
    assert due_alerts([item], day, CALENDAR, PLAN, frozenset()).due == ()


MOVES = st.lists(st.tuples(st.integers(1, 6), st.dates(date(2028, 1, 10), date(2028, 3, 10))), min_size=1, max_size=6)


@settings(max_examples=60)
@given(moves=MOVES)
def test_a_day_that_moves_replaces_its_alerts_exactly(moves):
    """What came up is, by numpy's working days, just what held on the days on which each date stood."""
    today, known, expected = date(2028, 1, 10), set(), set()
    for days_it_stands, order_by in moves:
        for _ in range(days_it_stands):
            finding = due_alerts([Watched("J", "M", order_by)], today, SHOP, PLAN, frozenset(known))
            known |= {alert.key for alert in finding.due}
            left = np.busday_count(today + DAY, order_by + DAY) if today < order_by else 0
            held = [str(n) for n in PLAN.days_ahead if max(left, 1) <= n] if today < order_by else ["10", "5", "1", "0"]
            held += ["late"] if today > order_by else []
            expected |= {AlertKey("J", "M", order_by, name) for name in held}
            today += DAY
    assert known == expected


def test_an_alert_of_a_day_that_has_moved_or_an_item_ordered_holds_no_more():
    items = {("J-1", "BASE"): BASE}
    held = [AlertKey("J-1", "BASE", BASE.order_by, "5"), AlertKey("J-1", "BASE", BASE.decide_by, "decide")]
    moved = [AlertKey("J-1", "BASE", BASE.decide_by, "5"), AlertKey("J-1", "GONE", BASE.order_by, "5")]
    assert [still_holds(key, items) for key in held + moved] == [True, True, False, False]


def test_the_list_of_the_week_waits_for_the_first_day_worked_and_its_hour():
    shut_monday = WorkCalendar("shop", frozenset({date(2026, 12, 28)}))
    at = {hour: weekly_list_due(wall(2026, 12, 29, hour, 59), time(7), shut_monday) for hour in (6, 7)}
    assert at == {6: None, 7: date(2026, 12, 28)}
    assert weekly_list_due(wall(2026, 12, 28, 12), time(7), shut_monday) is None


def test_a_list_missed_on_its_day_is_due_to_the_end_of_the_week():
    assert weekly_list_due(wall(2026, 12, 31, 3), time(7), SHOP) == date(2026, 12, 28)
    assert weekly_list_due(wall(2027, 1, 3, 23), time(7), SHOP) == date(2026, 12, 28)


def test_a_week_the_firm_is_shut_in_has_no_list():
    shut = WorkCalendar("shop", frozenset(date(2026, 12, 28) + n * DAY for n in range(7)))
    assert week_begins(date(2026, 12, 30), shut) is None
    assert weekly_list_due(wall(2026, 12, 30, 12), time(7), shut) is None


# Clocks are put on at 02:00 on Sunday 14 March 2027 and back at 02:00 on Sunday 7 November in New York (IANA).
@pytest.mark.parametrize("week", [date(2027, 3, 8), date(2027, 11, 1), date(2027, 12, 27), date(2028, 2, 28)])
def test_a_list_at_an_hour_the_clock_skips_or_repeats_is_due_once_and_not_before(week):
    zone, sundays = ZoneInfo("America/New_York"), WorkCalendar("shop", weekend=frozenset(range(6)))
    sunday = week + 6 * DAY
    start = datetime(sunday.year, sunday.month, sunday.day, tzinfo=zone).astimezone(UTC)
    states = [
        weekly_list_due((start + timedelta(minutes=n)).astimezone(zone), time(2, 30), sundays) for n in range(0, 300, 5)
    ]
    changes = [day for day, before in zip(states[1:], states, strict=False) if day != before]
    assert (states[0], changes[0]) == (None, week)
