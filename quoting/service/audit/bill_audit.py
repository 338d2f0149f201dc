"""Invariants of bills; loaded with the other audit checks."""

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal

from django.db.models import Sum

from catalog.core.ground.plain_text import money
from jobs.bills.models import Bill
from jobs.bills.services.bill_rows import standing_lines
from jobs.deliveries.models import ReceiptLine, ReturnedGoods
from quoting.service.audit.services.audit import audit_check

NOTHING = Decimal("0.00")


@audit_check("bills")
def bills_add_up(now: datetime) -> Iterable[str]:
    rows = Bill.objects.filter(entered_at__isnull=False).select_related("supplier")
    for row in rows.annotate(placed=Sum("lines__amount")).iterator(chunk_size=500):
        together = (row.placed or NOTHING) * row.sign + row.tax
        if together != row.total:
            yield f"{row} of {row.seller}: lines, freight and tax are {money(together)}, but the total is {row.total}."


@audit_check("credits")
def credits_are_what_their_lines_say(now: datetime) -> Iterable[str]:
    """Goods that went back may be credited by hand; of those nothing is said here."""
    for model, name in ((ReceiptLine, "receipt"), (ReturnedGoods, "returned")):
        sums = standing_lines().exclude(**{name: None}).order_by().values_list(name).annotate(sum=Sum("amount"))
        text = dict(model.objects.filter(pk__in=[pk for pk, _ in sums]).values_list("pk", "credited"))
        for pk, amount in sums:
            if amount and text[pk] != -amount:
                yield f"{name} {pk}: {text[pk]} is credited, but its credits come to {money(-amount)}."
