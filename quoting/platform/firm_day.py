"""Days and hours by the firm's own clock. What zone that is, the catalog knows; it says so as the service starts."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.utils import timezone

from quoting.platform import clock
from quoting.platform.people.signatures import Signature

ZoneReader = Callable[[], ZoneInfo | None]
_readers: list[ZoneReader] = []


def read_zone_with(reader: ZoneReader) -> None:
    """reader: the zone of the firm, None before a firm is entered."""
    _readers.append(reader)


def firm_zone() -> ZoneInfo:
    """The firm's own zone; before a firm is entered, the service's."""
    return _readers[-1]() or clock.service_zone()


def by_the_firms_clock() -> AbstractContextManager[None]:
    """Within it templates write every moment in the firm's zone."""
    return timezone.override(firm_zone())


def day_at_the_firm(now: datetime) -> date:
    """The day it is in the firm's time zone."""
    return moment_at_the_firm(now).date()


def moment_at_the_firm(now: datetime) -> datetime:
    """The same moment by the firm's own calendar and clock, for lists in which the hour of the day counts."""
    return now.astimezone(firm_zone())


def signature_of(person: Any, now: datetime) -> Signature:
    """Under what this person decides now. person: a Person, as a request has it."""
    return Signature(person.full_name, day_at_the_firm(now))
