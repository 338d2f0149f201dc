"""Until when a quote can be accepted. All days by hand."""

from datetime import date, timedelta
from types import SimpleNamespace

from hypothesis import given
from hypothesis import strategies as st

from quoting.core.quotes.validity import PriceHold, validity

QUOTED = date(2026, 11, 25)


def hold(until, name="Board"):
    return PriceHold("X", name, until)


def need(decide_by, name="Base", is_long_lead=True):
    return SimpleNamespace(name=name, is_long_lead=is_long_lead, dates=SimpleNamespace(decide_by=decide_by))


def keys(result):
    return [finding.key for finding in result.findings]


def test_it_stands_as_long_as_the_firm_says_when_prices_are_held_longer():
    result = validity(QUOTED, 30, [hold(date(2027, 3, 1))], ())
    assert (result.until, keys(result)) == (date(2026, 12, 25), [])


def test_the_shortest_hold_ends_it_and_is_named():
    result = validity(QUOTED, 30, [hold(date(2026, 12, 9)), hold(date(2026, 12, 4), "Track")], ())
    assert result.until == date(2026, 12, 4)
    assert "price of Track held" in result.findings[0].sentence


def test_a_hold_that_is_not_known_is_a_caution_and_bounds_nothing():
    result = validity(QUOTED, 30, [hold(None, name) for name in "ABCDE"], ())
    assert (result.until, keys(result)) == (date(2026, 12, 25), ["pricing/price-hold-unknown"])
    assert "A; B; C and 2 more" in result.findings[0].sentence


def test_a_hold_that_is_past_does_not_end_the_quote_before_it_begins():
    assert validity(QUOTED, 30, [hold(date(2026, 11, 24))], ()).until == date(2026, 12, 25)
    assert validity(QUOTED, 30, [hold(QUOTED)], ()).until == QUOTED


def test_a_validity_past_the_day_to_decide_is_told():
    """Larkmoor's base is decided by Thu 3 Dec 2026 (worked examples); 30 days end on 25 December."""
    result = validity(
        QUOTED, 30, (), [need(date(2026, 12, 3)), need(date(2027, 1, 4)), need(QUOTED, is_long_lead=False)]
    )
    assert keys(result) == ["pricing/accepted-too-late"]
    assert "Base must be decided by Thu 3 Dec 2026" in result.findings[0].sentence
    assert keys(validity(QUOTED, 8, (), [need(date(2026, 12, 3))])) == []


@given(st.lists(st.integers(-20, 60) | st.none(), max_size=8), st.integers(0, 40))
def test_no_price_in_it_is_held_shorter_than_it_stands(offs, days):
    holds = [hold(None if off is None else QUOTED + timedelta(days=off)) for off in offs]
    until = validity(QUOTED, days, holds, ()).until
    assert QUOTED <= until <= QUOTED + timedelta(days=days)
    assert all(until <= entry.until for entry in holds if entry.until is not None and entry.until >= QUOTED)
