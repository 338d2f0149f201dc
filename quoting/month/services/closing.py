"""A month is closed once, in order and after its end, by the owner; nobody posts meanwhile."""

from datetime import date, datetime

from django.db import connection, transaction
from django.db.models import Max

from catalog.core.ground.refusal import Refused
from quoting.core.money.month import next_month, why_not_closed
from quoting.month.models import ClosedMonth
from quoting.month.services.month_documents import month_document
from quoting.month.services.snapshots import first_month, snapshot_text
from quoting.platform.closed_rows import hold_posting, share_posting
from quoting.platform.people.signatures import Signature
from quoting.quotes.services.snapshots import hash_of


def last_closed() -> date | None:
    return ClosedMonth.objects.aggregate(last=Max("month"))["last"]


def first_open_month() -> date | None:
    """Holds closing off to the end of the transaction; None while no month is closed."""
    share_posting(connection)
    closed = last_closed()
    return None if closed is None else next_month(closed)


@transaction.atomic
def close_month(month: date, signature: Signature, *, now: datetime) -> ClosedMonth:
    """Keeps all figures of the month; from then on the database refuses rows that would count in it."""
    hold_posting(connection)
    if why := why_not_closed(month, last_closed(), first_month(), signature.on):
        raise Refused(why)
    text = snapshot_text(month, **month_document(month, signature.on))
    return ClosedMonth.objects.create(
        month=month, closed_at=now, closed_by_name=signature.by, snapshot=text, snapshot_sha256=hash_of(text)
    )
