"""What running the firm cost beside its jobs, as the office enters it."""

from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.deliveries.services.order_events import past_day, refuse_another, request_key_of
from quoting.month.models import OverheadActual
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import hold_open, month_to_post

SAID = ("what", "amount", "day", "bill")


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
    said = dict(zip(SAID, (what, amount, day, bill), strict=True))
    posted = month_to_post(day)
    present = OverheadActual.objects.filter(request_key=key).first()
    if present is not None:
        refuse_another(any(getattr(present, name) != one for name, one in said.items()), "another cost")
        return present, False
    marks = {"posted_month": posted, "entered_at": now, "entered_by_name": signature.by}
    return OverheadActual.objects.create(request_key=key, **said, **marks), True


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


def overhead_rows(month: date) -> list[OverheadActual]:
    """Those that count in the month."""
    return list(OverheadActual.objects.filter(posted_month=month, voided_at=None))


def overhead_sum(rows: list[OverheadActual]) -> Decimal | None:
    """None while none is entered: that is a gap, and no nought."""
    return sum((row.amount for row in rows), Decimal("0.00")) if rows else None
