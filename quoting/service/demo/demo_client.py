"""The client of the demonstration's main job has the quotation and has opened its page."""

from contextlib import suppress
from datetime import datetime

from catalog.core.ground.refusal import Refused
from quoting.client.models import ClientLink
from quoting.client.services.client_links import make_link
from quoting.client.services.openings import count_opening
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.models import Person
from quoting.quotes.models import QuoteRevision


def hand_over(revision: QuoteRevision, *, by: Person, now: datetime) -> None:
    """Once; on days on which the quotation can no longer be accepted nothing is handed over."""
    today = day_at_the_firm(now)
    if ClientLink.objects.filter(revision=revision).exists():
        return
    with suppress(Refused):
        link, _ = make_link(revision.pk, now=now, today=today, by_name=by.full_name, by_hand=True)
        count_opening(link, now=now, today=today)
