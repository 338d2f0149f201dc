import subprocess
import sys
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.core.exceptions import ImproperlyConfigured
from hypothesis import given
from hypothesis import strategies as st

from quoting.platform import clock
from quoting.platform.clock import FrozenClock, ShiftedClock
from quoting.platform.firm_day import day_at_the_firm
from tests.service import ROOT

ZONES = [
    "America/Toronto",
    "Australia/Lord_Howe",
    "Asia/Kathmandu",
    "Pacific/Kiritimati",
    "America/St_Johns",
    "UTC",
]


def test_before_a_firm_is_entered_the_day_is_that_of_the_settings_zone(db, settings):
    late_evening = datetime(2026, 12, 10, 3, 30, tzinfo=UTC)
    settings.TIME_ZONE = "America/Toronto"
    assert day_at_the_firm(late_evening) == date(2026, 12, 9)
    settings.TIME_ZONE = "UTC"
    assert day_at_the_firm(late_evening) == date(2026, 12, 10)


def test_a_moment_without_a_zone_is_refused():
    with pytest.raises(ValueError, match="time zone"):
        FrozenClock(datetime(2026, 12, 10))  # noqa: DTZ001 - the point of the test


def test_a_frozen_clock_stands_still_until_moved(frozen_clock):
    before = clock.now()
    assert clock.now() == before
    frozen_clock.move_on(minutes=5)
    assert clock.now() - before == timedelta(minutes=5)


def asks_the_machine(*where, source=None):
    """What ruff finds that asks for the day round the clock; pyproject.toml says what that is, and who may."""
    command = [sys.executable, "-m", "ruff", "check", "--no-cache", "--select", "TID251", "--output-format", "concise"]
    return subprocess.run([*command, *where], cwd=ROOT, input=source, capture_output=True, text=True).stdout


def test_nothing_asks_the_machine_for_the_day():
    assert asks_the_machine(".") == "All checks passed!\n"


@pytest.mark.parametrize(
    "asks",
    [
        "from datetime import date; date.today()",
        "import datetime as dt; dt.datetime.now(dt.UTC)",
        "from django.utils import timezone; field(default=timezone.now)",
        "from time import time; time()",
        "from quoting.platform.clock import SystemClock; SystemClock()",
    ],
)
def test_whatever_asked_the_machine_for_the_day_would_be_found_out(asks):
    """The control of the test above."""
    message = asks_the_machine("-", "--stdin-filename", "jobs/walls/services/anything.py", source=f"{asks}\n")
    assert "TID251" in message


def test_every_test_begins_on_the_same_day():
    assert clock.now() == datetime(2026, 10, 5, 9, tzinfo=UTC)


def test_the_clock_in_use_is_put_back():
    before = clock.current()
    with pytest.raises(ZeroDivisionError), clock.use(FrozenClock(datetime(2026, 1, 1, tzinfo=UTC))):
        raise ZeroDivisionError
    assert clock.current() is before


@given(
    st.datetimes(datetime(2020, 1, 1), datetime(2035, 1, 1)),  # noqa: DTZ001
    st.dates(date(2020, 1, 1), date(2035, 12, 31)),
    st.sampled_from(ZONES),
)
def test_a_shifted_clock_shows_exactly_the_day_asked_for(real, wanted, zone_name):
    zone = ZoneInfo(zone_name)
    shifted = ShiftedClock(wanted, zone, base=FrozenClock(real.replace(tzinfo=UTC)))
    shown = shifted.now().astimezone(zone)
    # A wall time that a clock change leaves out shows an hour later: the same day, except past 23:00.
    assert shown.date() == wanted or (shown.date() - wanted == timedelta(days=1) and shown.hour == 0)


def test_a_shifted_clock_runs_on():
    base = FrozenClock(datetime(2026, 11, 25, 9, tzinfo=UTC))
    shifted = ShiftedClock(date(2026, 12, 1), ZoneInfo("UTC"), base)
    before = shifted.now()
    base.move_on(seconds=90)
    assert shifted.now() - before == timedelta(seconds=90)


def test_the_day_can_be_set_from_the_environment(monkeypatch, settings):
    monkeypatch.setenv("CURVEWRIGHT_TODAY", "2027-02-12")
    with clock.use(clock._clock_from_environment()):
        assert clock.now().astimezone(clock.service_zone()).date() == date(2027, 2, 12)


@pytest.mark.parametrize("text", ["tomorrow", "12.02.2027", "2027-02-30"])
def test_a_day_that_is_none_is_refused(monkeypatch, text):
    monkeypatch.setenv("CURVEWRIGHT_TODAY", text)
    with pytest.raises(ImproperlyConfigured, match="write a day as YYYY-MM-DD"):
        clock._clock_from_environment()
