from datetime import date, datetime

from catalog.models import Firm
from quoting import clock


def day_at_the_firm(now: datetime) -> date:
    """The day it is in the firm's time zone; before a firm is entered, in the service's."""
    firm = Firm.objects.first()
    return now.astimezone(firm.zone if firm else clock.firm_zone()).date()
