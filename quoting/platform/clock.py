"""The one place the service asks for the time. Core and services are given it; edges ask here."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from typing import Protocol
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured


class Clock(Protocol):
    def now(self) -> datetime: ...


class SystemClock:
    def now(self) -> datetime:
        return datetime.now(UTC)


class FrozenClock:
    """Stands still until moved."""

    def __init__(self, moment: datetime) -> None:
        self.move_to(moment)

    def move_to(self, moment: datetime) -> None:
        if moment.tzinfo is None:
            raise ValueError(f"A clock needs a moment with a time zone; {moment.isoformat()} has none.")
        self._moment = moment.astimezone(UTC)

    def move_on(self, **parts: float) -> None:
        self._moment += timedelta(**parts)

    def now(self) -> datetime:
        return self._moment


class ShiftedClock:
    """Runs on, but as if it were another day: the days are moved on the firm's wall clock, so that it is
    there exactly the day asked for, and every process started on the same day agrees."""

    def __init__(self, today: date, zone: ZoneInfo, base: Clock | None = None) -> None:
        self._base = base or SystemClock()
        self._zone = zone
        self._shift = today - self._base.now().astimezone(zone).date()

    def now(self) -> datetime:
        wall = self._base.now().astimezone(self._zone).replace(tzinfo=None) + self._shift
        return wall.replace(tzinfo=self._zone).astimezone(UTC)


def service_zone() -> ZoneInfo:
    """The zone of the settings, for as long as no firm with its own is entered."""
    return ZoneInfo(settings.TIME_ZONE)


def _clock_from_environment() -> Clock:
    text = os.environ.get("CURVEWRIGHT_TODAY", "").strip()
    if not text:
        return SystemClock()
    try:
        day = date.fromisoformat(text)
    except ValueError as error:
        raise ImproperlyConfigured(
            f"CURVEWRIGHT_TODAY is {text!r}; write a day as YYYY-MM-DD, or leave it out."
        ) from error
    return ShiftedClock(day, service_zone())


_clock: Clock | None = None


def current() -> Clock:
    global _clock
    if _clock is None:
        _clock = _clock_from_environment()
    return _clock


def now() -> datetime:
    """This moment, in UTC."""
    return current().now()


@contextmanager
def use(clock: Clock) -> Iterator[Clock]:
    global _clock
    before = _clock
    _clock = clock
    try:
        yield clock
    finally:
        _clock = before
