"""What the tick does each minute, registered as this module is loaded at start-up."""

from datetime import datetime

from quoting.services.chores import every_minute
from quoting.services.firm_day import day_at_the_firm
from quoting.services.revisions import mark_lapsed


@every_minute("lapse quotes whose last day is over")
def lapse_quotes(now: datetime) -> None:
    mark_lapsed(now, day_at_the_firm(now))
