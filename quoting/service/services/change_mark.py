"""A short mark of all that Today is made of: where it has not changed, nothing has to be shown anew."""

import hashlib
from datetime import date
from functools import cache
from typing import Any

from django.db import connection
from django.db.models import CharField, Count, Max, QuerySet, Sum, Value
from django.db.models.functions import Cast, Concat

from jobs.deliveries.models import Confirmation, Delivery, ReceiptLine
from jobs.jobs.models import WorkedJob
from jobs.orders.models import Order
from jobs.schedule.models import ActualDays
from quoting.client.models import LinkOpening
from quoting.payment_requests.models import PaymentReceived
from quoting.platform.errands.models import Errand, ErrandState
from quoting.quotes.models import ClientAnswer, QuoteRevision, TakeBack


def change_mark(today: date) -> str:
    """Of rows written by anybody; asked in one query."""
    sql, params = _asked(connection.vendor)
    with connection.cursor() as cursor:
        cursor.execute(sql, params)
        said = sorted(map(str, cursor.fetchall()))
    return hashlib.sha256(f"{today} {said}".encode()).hexdigest()[:16]


@cache
def _asked(vendor: str) -> tuple[str, tuple[Any, ...]]:
    """The same each time, so it is made once: an open page asks every two seconds."""
    parts = [
        _part("answers", ClientAnswer.objects.all(), Max("pk"), Count("pk")),
        _part("taken back", TakeBack.objects.all(), Max("pk"), Count("pk")),
        _part("openings", LinkOpening.objects.all(), Max("pk"), Count("pk")),
        _part("revisions", QuoteRevision.objects.all(), Max("state_at"), Count("pk")),
        _part("deliveries", Delivery.objects.all(), Max("pk"), Count("pk")),
        _part("receipts", ReceiptLine.objects.all(), Max("pk"), Count("claimed_on")),
        _part("confirmations", Confirmation.objects.all(), Max("pk"), Count("pk")),
        _part("orders", Order.objects.all(), Max("placed_at"), Count("pk")),
        _part("payments", PaymentReceived.objects.all(), Max("pk"), Count("undone_at")),
        _part("work", ActualDays.objects.all(), Count("pk"), Count("ended_on")),
        _part("jobs", WorkedJob.objects.all(), Sum("changes"), Max("worked_up_at")),
        _part("failed", Errand.objects.filter(state=ErrandState.FAILED), Count("pk"), Max("finished_at")),
    ]
    sql, params = parts[0].union(*parts[1:], all=True).query.sql_with_params()
    return sql, tuple(params)


def _part(name: str, rows: QuerySet[Any], *figures: Any) -> QuerySet[Any, Any]:
    text = [Cast(one, CharField()) for one in figures]
    named = rows.order_by().annotate(of=Value(name, CharField())).values("of")
    return named.annotate(said=Concat(text[0], Value(" "), text[1], output_field=CharField())).values_list("of", "said")
