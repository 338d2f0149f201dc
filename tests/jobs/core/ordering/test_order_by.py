"""Order-by dates.

Expected dates are those of the four invented jobs (dental, library, boutique, childcare), worked out by hand
along the calendars; numpy's busday functions are the second reference.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.ground.workdays import Closure, WorkCalendar, calendar_with
from catalog.core.leads.lead_times import LeadTerm
from jobs.core.ordering.order_by import (
    Arrival,
    OrderDateError,
    OrderDates,
    arrival,
    days_in_hand,
    days_in_hand_in_words,
    order_by,
    standing,
    usable_day,
    workdays_late,
)


def shut(*stretches: tuple[date, date] | date) -> list[Closure]:
    return [Closure(*each) if isinstance(each, tuple) else Closure(each, each) for each in stretches]


def weeks_term(days: int, transit: int) -> LeadTerm:
    return LeadTerm(days, "workdays", transit, "price list", date(2026, 1, 5))


DENTAL_FIRM = calendar_with("firm", shut(date(2026, 12, 25), date(2026, 12, 28), date(2027, 1, 1), date(2027, 1, 18)))
# The mill keeps the ordinary holidays whether or not it shuts down between them.
MILL_WITHOUT_SHUTDOWN = calendar_with("trim mill", shut(date(2026, 12, 25), date(2027, 1, 1), date(2027, 1, 18)))
TRIM_MILL = calendar_with("trim mill", shut((date(2026, 12, 21), date(2027, 1, 1)), date(2027, 1, 18)))
LIBRARY_FIRM = calendar_with("firm", shut(date(2027, 2, 15), date(2027, 3, 26), date(2027, 3, 29)))
LIBRARY_SUPPLIER = calendar_with("supplier", shut(date(2027, 2, 15), date(2027, 3, 26)))
BOUTIQUE_FIRM = calendar_with("firm", shut(date(2027, 3, 26)))
REVEAL_MAKER = calendar_with("reveal maker", shut(date(2027, 3, 26), (date(2027, 4, 5), date(2027, 4, 9))))
CHILDCARE_FIRM = calendar_with("firm", shut(date(2027, 7, 5)))
TRIM_MAKER = calendar_with("trim maker", shut(date(2027, 7, 5), (date(2027, 7, 19), date(2027, 7, 30))))


def test_the_dental_base_is_ordered_before_the_mill_shuts_down():
    dates = order_by(
        date(2027, 1, 25),
        weeks_term(15, 3),
        cushion_workdays=3,
        sign_off_workdays=5,
        firm=DENTAL_FIRM,
        supplier=TRIM_MILL,
    )
    assert dates == OrderDates(
        need_by=date(2027, 1, 25),
        dock=date(2027, 1, 20),
        ship=date(2027, 1, 14),
        order_by=date(2026, 12, 10),
        decide_by=date(2026, 12, 3),
    )


def test_without_the_mills_shutdown_the_dental_base_could_wait_until_22_december():
    dates = order_by(
        date(2027, 1, 25),
        weeks_term(15, 3),
        cushion_workdays=3,
        sign_off_workdays=5,
        firm=DENTAL_FIRM,
        supplier=MILL_WITHOUT_SHUTDOWN,
    )
    assert dates.order_by == date(2026, 12, 22)


def test_the_dental_base_ordered_on_16_december_is_four_working_days_late():
    usable = usable_day(date(2026, 12, 16), weeks_term(15, 3), cushion_workdays=3, firm=DENTAL_FIRM, supplier=TRIM_MILL)
    assert usable == date(2027, 1, 29)
    assert workdays_late(date(2027, 1, 25), usable, DENTAL_FIRM) == 4


def test_dental_track_and_board_are_ordered_by_10_december():
    # Counting back gives Fri 11 December, of which they would be usable on Tue 5 January, a day late.
    dates = order_by(
        date(2027, 1, 4),
        weeks_term(5, 1),
        cushion_workdays=1,
        sign_off_workdays=0,
        firm=DENTAL_FIRM,
        supplier=TRIM_MILL,
    )
    assert (dates.order_by, dates.ship, dates.dock) == (date(2026, 12, 10), date(2026, 12, 17), date(2026, 12, 18))


def test_the_library_trim_dates():
    dates = order_by(
        date(2027, 4, 12),
        weeks_term(30, 4),
        cushion_workdays=5,
        sign_off_workdays=10,
        firm=LIBRARY_FIRM,
        supplier=LIBRARY_SUPPLIER,
    )
    assert (dates.dock, dates.ship) == (date(2027, 4, 5), date(2027, 3, 30))
    assert (dates.order_by, dates.decide_by) == (date(2027, 2, 12), date(2027, 1, 29))


@pytest.mark.parametrize(
    ("need_by", "production", "cushion", "expected_order_by", "expected_decide_by"),
    [
        (date(2027, 4, 20), 20, 2, date(2027, 3, 8), date(2027, 3, 1)),
        (date(2027, 5, 5), 15, 3, date(2027, 4, 6), date(2027, 3, 30)),
    ],
    ids=["reveal", "base"],
)
def test_the_boutique_dates(need_by, production, cushion, expected_order_by, expected_decide_by):
    supplier = REVEAL_MAKER if production == 20 else BOUTIQUE_FIRM
    dates = order_by(
        need_by,
        weeks_term(production, 3),
        cushion_workdays=cushion,
        sign_off_workdays=5,
        firm=BOUTIQUE_FIRM,
        supplier=supplier,
    )
    assert (dates.order_by, dates.decide_by) == (expected_order_by, expected_decide_by)


def test_the_childcare_trim_dates():
    dates = order_by(
        date(2027, 8, 11),
        weeks_term(15, 2),
        cushion_workdays=3,
        sign_off_workdays=5,
        firm=CHILDCARE_FIRM,
        supplier=TRIM_MAKER,
    )
    assert (dates.dock, dates.ship) == (date(2027, 8, 6), date(2027, 8, 4))
    assert (dates.order_by, dates.decide_by) == (date(2027, 6, 29), date(2027, 6, 22))


def test_the_childcare_reorder_is_seventeen_working_days_late():
    usable = usable_day(
        date(2027, 8, 6), weeks_term(15, 2), cushion_workdays=3, firm=CHILDCARE_FIRM, supplier=TRIM_MAKER
    )
    assert usable == date(2027, 9, 3)
    assert workdays_late(date(2027, 8, 11), usable, CHILDCARE_FIRM) == 17


def test_calendar_days_of_production_run_through_weekends():
    # 10 days before Mon 14 June 2027 is Fri 4 June.
    term = LeadTerm(10, "calendar_days", 1, "telephone", date(2027, 1, 4))
    shop = WorkCalendar("shop")
    dates = order_by(date(2027, 6, 15), term, cushion_workdays=0, sign_off_workdays=0, firm=shop, supplier=shop)
    assert (dates.ship, dates.order_by) == (date(2027, 6, 14), date(2027, 6, 4))


def test_the_order_by_day_is_one_on_which_the_firm_works_too():
    firm = WorkCalendar("firm", frozenset({date(2027, 6, 4)}))
    term = LeadTerm(5, "workdays", 0, "price list", date(2027, 1, 4))
    dates = order_by(
        date(2027, 6, 11),
        term,
        cushion_workdays=0,
        sign_off_workdays=0,
        firm=firm,
        supplier=WorkCalendar("s"),
    )
    assert dates.order_by == date(2027, 6, 3)


def test_ordered_a_day_after_its_order_by_day_dental_track_is_a_day_late():
    # It would ship on Fri 18 December and be in transit on Mon 4 January, the supplier's next day.
    usable = usable_day(date(2026, 12, 11), weeks_term(5, 1), cushion_workdays=1, firm=DENTAL_FIRM, supplier=TRIM_MILL)
    assert usable == date(2027, 1, 5)


def test_an_order_after_the_cut_off_counts_as_the_next_days():
    shop = WorkCalendar("shop")
    term = LeadTerm(5, "workdays", 0, "price list", date(2027, 1, 4))

    def usable(placed_at: time) -> date:
        return usable_day(
            date(2027, 6, 4),
            term,
            cushion_workdays=0,
            firm=shop,
            supplier=shop,
            placed_at=placed_at,
            cut_off=time(14),
        )

    assert usable(time(14)) == date(2027, 6, 11)
    assert usable(time(14, 1)) == date(2027, 6, 14)


def test_an_order_late_on_a_day_the_supplier_is_shut_counts_from_the_next_day_once():
    shop = WorkCalendar("shop")
    term = LeadTerm(5, "workdays", 0, "price list", date(2027, 1, 4))
    counted = arrival(
        date(2027, 6, 5),
        term,
        cushion_workdays=0,
        firm=shop,
        supplier=shop,
        placed_at=time(18),
        cut_off=time(14),
    )
    assert counted.counted_from == date(2027, 6, 7)


def test_days_in_hand_are_zero_on_the_day_and_negative_only_after_it():
    firm = WorkCalendar("firm")
    friday = date(2026, 12, 11)
    counts = [days_in_hand(friday + timedelta(days=step), friday, firm) for step in range(-2, 5)]
    assert counts == [2, 1, 0, -1, -1, -1, -2]


@pytest.mark.parametrize(
    ("days", "state", "words"),
    [
        (7, "ahead", "7 working days in hand"),
        (1, "ahead", "1 working day in hand"),
        (0, "due_today", "due today"),
        (-1, "late", "1 working day late"),
        (-4, "late", "4 working days late"),
    ],
)
def test_each_number_of_days_in_hand_has_a_state_and_words(days, state, words):
    assert (standing(days), days_in_hand_in_words(days)) == (state, words)


def test_a_negative_cushion_is_refused():
    shop = WorkCalendar("shop")
    with pytest.raises(OrderDateError, match="not -1"):
        order_by(
            date(2027, 6, 11),
            weeks_term(5, 0),
            cushion_workdays=-1,
            sign_off_workdays=0,
            firm=shop,
            supplier=shop,
        )


def test_calendars_that_never_meet_are_refused():
    weekdays = WorkCalendar("firm")
    weekends = WorkCalendar("supplier", weekend=frozenset({0, 1, 2, 3, 4}))
    with pytest.raises(OrderDateError, match="no weekday is left"):
        order_by(
            date(2027, 6, 11),
            weeks_term(5, 0),
            cushion_workdays=1,
            sign_off_workdays=0,
            firm=weekdays,
            supplier=weekends,
        )


def test_dates_out_of_order_are_refused():
    with pytest.raises(OrderDateError, match="run decide-by"):
        OrderDates(*[date(2027, 1, day) for day in (1, 2, 3, 4, 5)])
    with pytest.raises(OrderDateError, match="run ordered, ship, dock, usable"):
        Arrival(*[date(2027, 1, day) for day in (4, 3, 2, 1)])


def test_the_order_by_day_names_the_hour_where_the_supplier_has_one():
    days = [date(2027, 1, day) for day in (5, 4, 3, 2, 1)]
    assert OrderDates(*days).order_by_in_words() == "by the end of Sat 2 Jan 2027"
    assert OrderDates(*days, time(14, 30)).order_by_in_words() == "by 14:30 on Sat 2 Jan 2027"


def test_dates_past_the_last_year_are_refused_in_words():
    term = LeadTerm(30, "calendar_days", 0, "price list", date(2027, 1, 4))
    shop = WorkCalendar("shop")
    with pytest.raises(OrderDateError, match=r"arrival cannot be worked out: .*years 1 to 9999"):
        arrival(date(9999, 12, 20), term, cushion_workdays=0, firm=shop, supplier=shop)


def test_the_hour_of_the_order_by_day_is_for_the_day_its_order_counts_from():
    # The firm is shut on Friday 4 June, the supplier on Thursday 3 June: what is ordered then counts from Friday.
    firm, shop = (WorkCalendar(name, frozenset({date(2027, 6, day)})) for name, day in (("firm", 4), ("shop", 3)))
    at = {"cushion_workdays": 0, "firm": firm, "supplier": shop}
    counted = arrival(date(2027, 6, 3), weeks_term(5, 0), placed_at=time(18), cut_off=time(14), **at)
    assert counted.counted_from == date(2027, 6, 4)


def test_a_supplier_that_closes_for_good_is_ordered_from_while_it_ships():
    gone = calendar_with("gone", shut((date(2027, 6, 1), date(2029, 12, 31)), (date(2030, 1, 1), date(2032, 12, 31))))
    firm = WorkCalendar("firm")
    ships = order_by(
        date(2027, 6, 10), weeks_term(5, 1), cushion_workdays=1, sign_off_workdays=0, firm=firm, supplier=gone
    )
    # Monday 31 May is the last day it works, and so the last on which it can be at the dock.
    assert (ships.order_by, ships.dock) == (date(2027, 5, 21), date(2027, 5, 31))


FIRST_DAY = date(2026, 1, 1)
WEEKENDS = (frozenset({5, 6}), frozenset({5, 6}), frozenset({6}), frozenset({4, 5}))
CALENDARS = st.builds(
    WorkCalendar,
    st.just("one"),
    st.frozensets(st.dates(date(2024, 6, 1), date(2031, 6, 30)), max_size=60),
    st.sampled_from(WEEKENDS),
)
DAYS = st.dates(date(2025, 1, 1), date(2030, 12, 31))


def a_calendar(pick: random.Random) -> WorkCalendar:
    """Single days off and longer shutdowns over three years."""
    days = {FIRST_DAY + timedelta(days=pick.randrange(1100)) for _ in range(pick.randrange(30))}
    for _ in range(pick.randrange(6)):
        first, length = FIRST_DAY + timedelta(days=pick.randrange(1100)), pick.randrange(1, 22)
        days |= {first + timedelta(days=step) for step in range(length)}
    return WorkCalendar("one", frozenset(days), pick.choice(WEEKENDS))


@dataclass(frozen=True)
class ByNumpy:
    """One case counted by numpy alone, in both directions."""

    firm: np.busdaycalendar
    supplier: np.busdaycalendar
    term: LeadTerm
    cushion: int

    @staticmethod
    def days_of(calendar: WorkCalendar) -> np.busdaycalendar:
        mask = [weekday not in calendar.weekend for weekday in range(7)]
        return np.busdaycalendar(mask, sorted(calendar.closed_days))

    def back(self, day: np.datetime64, workdays: int, days: np.busdaycalendar) -> np.datetime64:
        # Rolling forward first makes the count start strictly before a day that is not worked; no days at all
        # means the day itself or the last working one before it.
        return np.busday_offset(day, -workdays, roll="forward" if workdays else "backward", busdaycal=days)

    def forward(self, day: np.datetime64, workdays: int, days: np.busdaycalendar) -> np.datetime64:
        return np.busday_offset(day, workdays, roll="backward" if workdays else "forward", busdaycal=days)

    def counted_back(self, need_by: date) -> np.datetime64:
        dock = self.back(np.datetime64(need_by), self.cushion, self.firm)
        day = self.back(dock, self.term.transit_workdays, self.supplier)
        if self.term.production_counts == "workdays":
            day = self.back(day, self.term.production_days, self.supplier)
        else:
            day -= self.term.production_days
        while not (np.is_busday(day, busdaycal=self.firm) and np.is_busday(day, busdaycal=self.supplier)):
            day -= 1
        return day

    def pass_forward(self, ordered: np.datetime64) -> tuple[np.datetime64, np.datetime64, np.datetime64]:
        """Ship, dock and the day it is usable."""
        ship = self.forward(ordered, 0, self.supplier)
        if self.term.production_counts == "workdays":
            ship = self.forward(ship, self.term.production_days, self.supplier)
        else:
            ship = self.forward(ship + self.term.production_days, 0, self.supplier)
        dock = self.forward(self.forward(ship, self.term.transit_workdays, self.supplier), 0, self.firm)
        return ship, dock, self.forward(dock, self.cushion, self.firm)


def random_cases(count: int) -> Iterator[tuple[date, LeadTerm, int, WorkCalendar, WorkCalendar, ByNumpy]]:
    pick = random.Random(20261211)
    calendars = [(calendar, ByNumpy.days_of(calendar)) for calendar in (a_calendar(pick) for _ in range(200))]
    for _ in range(count):
        (firm, firm_days), (supplier, supplier_days) = pick.choice(calendars), pick.choice(calendars)
        counts = pick.choice(("workdays", "workdays", "calendar_days"))
        term = LeadTerm(pick.randrange(41), counts, pick.randrange(9), "price list", date(2020, 1, 1))
        need_by, cushion = FIRST_DAY + timedelta(days=pick.randrange(200, 1000)), pick.randrange(9)
        yield need_by, term, cushion, firm, supplier, ByNumpy(firm_days, supplier_days, term, cushion)


def test_what_is_ordered_on_its_order_by_day_is_in_time_and_a_working_day_later_it_is_late():
    moved = 0
    for need_by, term, cushion, firm, supplier, counted in random_cases(10_000):
        result = order_by(need_by, term, cushion_workdays=cushion, sign_off_workdays=5, firm=firm, supplier=supplier)
        day, first = np.datetime64(result.order_by), counted.counted_back(need_by)
        ship, dock, usable = counted.pass_forward(day)
        assert np.is_busday(day, busdaycal=counted.firm) and day <= first and usable <= np.datetime64(need_by)
        next_day = counted.forward(day, 1, counted.firm)
        assert next_day > first or counted.pass_forward(next_day)[2] > np.datetime64(need_by)
        assert (result.ship, result.dock) == (ship, dock)
        assert result.decide_by == counted.back(day, 5, counted.firm)
        moved += day < first
    assert moved > 500, "the cases hold closures that make counting back alone late"


def test_an_order_after_the_cut_off_counts_from_the_suppliers_next_day_by_numpy_too():
    for day, term, cushion, firm, supplier, counted in random_cases(1_000):
        late = {"placed_at": time(15), "cut_off": time(14)}
        result = arrival(day, term, cushion_workdays=cushion, firm=firm, supplier=supplier, **late)
        # Of a day the supplier is shut the next one is the first anyway.
        counts = counted.forward(np.datetime64(day), 1, counted.supplier)
        assert (result.counted_from, (result.ship, result.dock, result.usable)) == (
            counts,
            counted.pass_forward(counts),
        )


@settings(deadline=None)
@given(DAYS, DAYS, CALENDARS)
def test_days_in_hand_have_the_sign_of_the_days_apart(today, by, firm):
    days = days_in_hand(today, by, firm)
    apart = (by - today).days
    assert (days > 0) - (days < 0) == (apart > 0) - (apart < 0)
