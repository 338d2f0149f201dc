"""How often a client opened the page of a quote: counted apart from the quote, without who or from where."""

from datetime import date, datetime, timedelta

from django.db import transaction

from jobs.jobs.services.changes import fact_changed
from quoting.client.models import ClientLink, LinkOpening

SAME_OPENING = timedelta(minutes=10)
"""Looking again within it, such as after a choice or an answer, is the same opening."""


@transaction.atomic
def count_opening(link: ClientLink, *, now: datetime, today: date) -> LinkOpening | None:
    """None where it is counted already. Two at once are one: the link is held."""
    link = ClientLink.objects.select_for_update(of=("self",)).select_related("revision__quote").get(pk=link.pk)
    if LinkOpening.objects.filter(link=link, opened_at__gt=now - SAME_OPENING).exists():
        return None
    row = LinkOpening.objects.create(link=link, opened_at=now, opened_on=today)
    fact_changed(link.revision.quote.job_id)
    return row
