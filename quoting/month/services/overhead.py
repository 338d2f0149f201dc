"""What running the firm cost beside its jobs, as the office enters it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import As, Money, Stripped, read
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.reasons import WhyTakenBack
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.bills.models import Category
from jobs.bills.services.bill_rows import standing_lines
from jobs.core.costs.bills import number_key
from jobs.deliveries.services.order_events import day_come
from quoting.core.money.month_figures import OverheadOfMonth
from quoting.month.models import OverheadActual
from quoting.month.services.posted_rows import entries_of, overhead_rows
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import hold_open, month_to_post
from quoting.pricing.services.pricing import pricing_of


@dataclass(frozen=True, kw_only=True)
class NewOverhead:
    """A cost of running the firm; less than nought came back. `day` is today when it is not given."""

    request_key: RequestKey
    what: Annotated[str, Stripped(200), As(label="What for")]
    amount: Annotated[Decimal, Money(allow_negative=True), As(hint="Less than zero: it came back.")]
    day: Annotated[date | None, As(label="On")] = None
    bill: Annotated[str, Stripped(100), As(label="Bill number", hint="Empty for none.")] = ""


class AnotherCost(Refused):
    path = "request_key"

    def __init__(self) -> None:
        super().__init__("This form has entered another cost already: open the page again and enter this there.")


@transaction.atomic
def enter_overhead(document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[OverheadActual, bool]:
    """document: as `NewOverhead`. Safe to repeat."""
    said = read(NewOverhead, entry_reader(document))
    day = day_come(said.day, "day", signature)
    if not said.amount:
        raise DocumentError.at("amount", "zero is not a cost")
    text = {"what": said.what, "amount": said.amount, "day": day, "bill": said.bill}
    posted = month_to_post(day)
    present = OverheadActual.objects.filter(request_key=said.request_key).first()
    if present is not None:
        if any(getattr(present, name) != entry for name, entry in text.items()):
            raise AnotherCost
        return present, False
    _refuse_twice(said.bill)
    marks = {"posted_month": posted, "entered_at": now, "entered_by_name": signature.by}
    return OverheadActual.objects.create(request_key=said.request_key, **text, **marks), True


@transaction.atomic
def void_overhead(
    row: OverheadActual, document: dict[str, Any], signature: Signature, *, now: datetime
) -> OverheadActual:
    """Entered by mistake: reason. It stays to be seen, and counts for nothing."""
    reason = read(WhyTakenBack, entry_reader(document)).reason
    row = OverheadActual.objects.select_for_update().get(pk=row.pk)
    if row.voided_at is None:
        hold_open(row.posted_month)
        save_if_changed(row, {"voided_at": now, "voided_by_name": signature.by, "void_reason": reason})
    return row


def overhead_of(month: date) -> OverheadOfMonth:
    """By the firm's usual rule, on the work of the month; against the costs entered and the bills for no job."""
    usual = pricing_of(None)
    work = [row for row in entries_of(month) if row.job_id is not None]
    lines = list(standing_lines().filter(bill__posted_month=month))
    on_jobs = _sum(row.amount + row.tax for row in lines if row.job_id is not None)
    cost = sum((row.to_core("").cost for row in work), on_jobs)
    own = [row.amount for row in overhead_rows(month)]
    actual = [*own, *(row.amount + row.tax for row in lines if row.job_id is None)]
    return OverheadOfMonth(
        sum(row.minutes for row in work),
        cost,
        usual and usual.overhead_per_hour,
        usual and usual.overhead_share,
        _sum(actual) if actual else None,
    )


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, Decimal("0.00"))


def _refuse_twice(bill: str) -> None:
    known = standing_lines().filter(category=Category.OVERHEAD, bill__number_key=number_key(bill))
    if bill and known.exists():
        raise DocumentError.at("bill", f"{bill} is entered as a bill that is for no job, so it counts already")
