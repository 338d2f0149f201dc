"""Credits suppliers agreed to and that are not in yet, of many jobs in two queries."""

from collections.abc import Collection, Iterator
from decimal import Decimal

from django.db.models import F, Q

from jobs.core.costs.bills import NOTHING, AgreedCredit
from jobs.deliveries.models import ClaimOutcome, ReceiptLine, ReturnedGoods
from jobs.orders.models import OrderLine


def agreed_credits_of(job_ids: Collection[int]) -> dict[int, list[AgreedCredit]]:
    """What came in by a credit, or by hand, is off; a claim that was refused or kept agrees to nothing."""
    credits: dict[int, list[AgreedCredit]] = {job: [] for job in job_ids}
    for line, credit in [*_claims(credits), *_returns(credits)]:
        credits[line.job_id].append(credit)
    return credits


def _claims(job_ids: Collection[int]) -> Iterator[tuple[OrderLine, AgreedCredit]]:
    rows = ReceiptLine.objects.filter(line__job__in=job_ids, outcome=ClaimOutcome.CREDITED, credit__gt=0)
    rows = rows.filter(Q(credited=None) | Q(credited__lt=F("credit"))).select_related("line__order").order_by("pk")
    for row in rows:
        yield row.line, _credit(f"receipt {row.pk}", row.line, row.credit, row.credited)


def _returns(job_ids: Collection[int]) -> Iterator[tuple[OrderLine, AgreedCredit]]:
    rows = ReturnedGoods.objects.filter(line__job__in=job_ids, credit_expected__gt=0)
    rows = rows.filter(Q(credited=None) | Q(credited__lt=F("credit_expected")))
    for row in rows.select_related("line__order").order_by("pk"):
        yield row.line, _credit(f"returned {row.pk}", row.line, row.credit_expected, row.credited)


def _credit(row: str, line: OrderLine, agreed: Decimal | None, credited: Decimal | None) -> AgreedCredit:
    return AgreedCredit(
        row, line.order.number, line.material_id, line.what, (agreed or NOTHING) - (credited or NOTHING)
    )
