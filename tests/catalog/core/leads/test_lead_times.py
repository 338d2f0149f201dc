"""Lead terms and the words suppliers use for them."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.core.leads.lead_times import Duration, LeadTerm, LeadTermError, parse_duration, term_in_force


def term(days: int, stated_on: date, source: str = "price list") -> LeadTerm:
    return LeadTerm(days, "workdays", 2, source, stated_on)


@pytest.mark.parametrize(
    ("text", "days", "counts"),
    [
        ("3 weeks", 15, "workdays"),
        ("1 week", 5, "workdays"),
        ("6 wks", 30, "workdays"),
        ("20 days", 20, "workdays"),
        ("1 day", 1, "workdays"),
        ("15 working days", 15, "workdays"),
        ("15 business days", 15, "workdays"),
        ("15 workdays", 15, "workdays"),
        ("10 calendar days", 10, "calendar_days"),
        ("2 calendar weeks", 14, "calendar_days"),
        ("2 CALENDAR Weeks", 14, "calendar_days"),
        ("0 days", 0, "workdays"),
    ],
)
def test_a_duration_is_read_as_suppliers_say_it(text, days, counts):
    # Trade rules, dates: "1 week" is 5 working days unless the supplier's terms say calendar days.
    assert parse_duration(text) == Duration(days, counts)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("2-3 weeks", "range; give the longer"),
        ("2 to 3 weeks", "range; give the longer"),
        ("1.5 weeks", "whole days or weeks"),
        ("2 months", "whole days or weeks"),
        ("soon", "whole days or weeks"),
        ("", "whole days or weeks"),
        ("15", "whole days or weeks"),
        ("-3 weeks", "whole days or weeks"),
        ("３ weeks", "whole days or weeks"),
        ("9999 days", "over 730 days"),
        ("3 calendar workdays", "two kinds of day"),
        ("3" * 50, "not a duration"),
        (3, "not a duration"),
    ],
)
def test_a_wrong_duration_is_refused_with_the_reason(text, reason):
    with pytest.raises(LeadTermError, match=rf"^Lead time: .*{reason}"):
        parse_duration(text)


def test_the_last_term_stated_by_the_day_is_in_force():
    old, new = term(10, date(2026, 1, 5)), term(15, date(2026, 6, 1))
    assert term_in_force([new, old], date(2026, 5, 31)) == old
    assert term_in_force([new, old], date(2026, 6, 1)) == new


def test_of_two_terms_stated_on_one_day_the_later_entry_holds():
    first, second = term(10, date(2026, 1, 5)), term(12, date(2026, 1, 5))
    assert term_in_force([first, second], date(2026, 1, 5)) == second


def test_a_term_not_yet_stated_is_a_gap():
    assert term_in_force([term(10, date(2026, 6, 1))], date(2026, 5, 31)) is None


@settings(deadline=None)
@given(st.lists(st.dates(date(2025, 1, 1), date(2027, 1, 1))), st.dates(date(2025, 1, 1), date(2027, 1, 1)))
def test_the_term_in_force_is_the_newest_of_those_stated(days, on_day):
    chosen = term_in_force([term(5, day) for day in days], on_day)
    assert (chosen.stated_on if chosen else None) == max((day for day in days if day <= on_day), default=None)


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ((-1, "workdays", 2, "price list", date(2026, 1, 5)), "Production days .* not -1"),
        ((731, "workdays", 2, "price list", date(2026, 1, 5)), "from 0 to 730"),
        ((1.5, "workdays", 2, "price list", date(2026, 1, 5)), r"not 1\.5"),
        ((True, "workdays", 2, "price list", date(2026, 1, 5)), "not True"),
        ((5, "weeks", 2, "price list", date(2026, 1, 5)), "not 'weeks'"),
        ((5, "workdays", -2, "price list", date(2026, 1, 5)), "Transit .* not -2"),
        ((5, "workdays", 2, " ", date(2026, 1, 5)), "needs its source"),
        ((5, "workdays", 2, "price list", datetime(2026, 1, 5)), "needs the day"),  # noqa: DTZ001
    ],
)
def test_a_lead_term_that_cannot_be_is_refused(values, reason):
    with pytest.raises(LeadTermError, match=reason):
        LeadTerm(*values)
