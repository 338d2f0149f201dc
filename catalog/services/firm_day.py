from datetime import date, datetime
from typing import Any

from catalog.models import Firm
from quoting.platform import clock
from quoting.platform.people.signatures import Signature


def day_at_the_firm(now: datetime) -> date:
    """The day it is in the firm's time zone; before a firm is entered, in the service's."""
    return moment_at_the_firm(now).date()


def moment_at_the_firm(now: datetime) -> datetime:
    """The same moment by the firm's own calendar and clock, for lists in which the hour of the day counts."""
    firm = Firm.objects.first()
    return now.astimezone(firm.zone if firm else clock.firm_zone())


def signature_of(person: Any, now: datetime) -> Signature:
    """Under what this person decides now. person: a Person, as a request has it."""
    return Signature(person.full_name, day_at_the_firm(now))
