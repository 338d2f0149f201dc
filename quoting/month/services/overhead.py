"""What running the firm cost beside its jobs, as the office enters it."""

from collections.abc import Iterable
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import request_key_of
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.bills.models import Category
from jobs.bills.services.bill_rows import standing_lines
from jobs.core.costs.bills import number_key
from jobs.deliveries.services.order_events import past_day
from quoting.core.money.month_figures import OverheadOfMonth
from quoting.month.models import OverheadActual
from quoting.month.services.posted_rows import entries_of, overhead_rows
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import hold_open, month_to_post
from quoting.pricing.services.pricing import pricing_of

SAID = ("what", "amount", "day", "bill")


class AnotherCost(Refused):
    path = "request_key"

    def __init__(self) -> None:
        super().__init__("This form has entered another cost already: open the page again and enter this there.")


@transaction.atomic
def enter_overhead(document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[OverheadActual, bool]:
    """request_key, what, amount, day, bill. Less than nought came back. Sent twice it is one."""
    reader = entry_reader(document)
    key, what = request_key_of(reader), reader.text("what", longest=200).strip()
    amount, day = reader.money("amount", allow_negative=True), past_day(reader, "day", signature)
    bill = reader.text("bill", "", longest=100).strip()
    reader.finish()
    if not what or not amount:
        name, why = ("what", "say what it was for") if not what else ("amount", "nought is no cost")
        raise DocumentError.at(name, why)
    text = dict(zip(SAID, (what, amount, day, bill), strict=True))
    posted = month_to_post(day)
    present = OverheadActual.objects.filter(request_key=key).first()
    if present is not None:
        if any(getattr(present, name) != entry for name, entry in text.items()):
            raise AnotherCost
        return present, False
    _refuse_twice(bill)
    marks = {"posted_month": posted, "entered_at": now, "entered_by_name": signature.by}
    return OverheadActual.objects.create(request_key=key, **text, **marks), True


@transaction.atomic
def void_overhead(
    row: OverheadActual, document: dict[str, Any], signature: Signature, *, now: datetime
) -> OverheadActual:
    """Entered by mistake: reason. It stays to be seen, and counts for nothing."""
    reader = entry_reader(document)
    reason = reader.text("reason", longest=300)
    reader.finish()
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
