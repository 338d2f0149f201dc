"""Money that came in from the client, and what of the deposit is open."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.deliveries.services.order_events import LONGEST_NAME, past_day, refuse_another, request_key_of
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from jobs.orders.services.job_standings import job_standings
from quoting.client.models import PaymentReceived
from quoting.platform.people.signatures import Signature

DEPOSIT = "Deposit"
NOTHING = Decimal("0.00")
SAID = ("job_id", "amount", "received_on", "what_for")


@dataclass(frozen=True)
class DepositStanding:
    """due: nought where none is asked for. received: all that came in of the client, for the deposit comes first."""

    due: Decimal
    received: Decimal

    @property
    def open(self) -> Decimal:
        return max(NOTHING, self.due - self.received)

    @property
    def is_met(self) -> bool:
        return not self.open


def payments_of(job: Job) -> list[PaymentReceived]:
    return list(PaymentReceived.objects.filter(job=job))


def received_sum(payments: Iterable[PaymentReceived]) -> Decimal:
    """What stands: undone ones count for nothing."""
    return sum((one.amount for one in payments if one.undone_at is None), NOTHING)


def deposit_of(job: Job) -> DepositStanding | None:
    """None while no quote is accepted: then no deposit is agreed."""
    # The day matters to the window of taking the acceptance back alone, which plays no part here.
    standing = job_standings([job.pk], date.min)[job.pk]
    return DepositStanding(standing.deposit_due, standing.deposit_received) if standing.accepted else None


def enter_payment(
    job: Job, document: dict[str, Any], signature: Signature, *, now: datetime
) -> tuple[PaymentReceived, bool]:
    """Money that came in: request_key, amount, received_on, what_for. Sent twice it is one payment."""
    with transaction.atomic():
        job = Job.objects.select_for_update().get(pk=job.pk)
        reader = entry_reader(document)
        key, amount = request_key_of(reader), reader.money("amount")
        day = past_day(reader, "received_on", signature)
        what_for = reader.text("what_for", DEPOSIT, longest=LONGEST_NAME).strip() or DEPOSIT
        reader.finish()
        if not amount:
            raise DocumentError.at("amount", f"{amount} is no payment; it is more than nought")
        said = dict(zip(SAID, (job.pk, amount, day, what_for), strict=True))
        present = PaymentReceived.objects.filter(request_key=key).first()
        if present is not None:
            refuse_another(any(getattr(present, name) != one for name, one in said.items()), "another payment")
            return present, False
        row = PaymentReceived.objects.create(request_key=key, **said, entered_at=now, entered_by_name=signature.by)
        fact_changed(job.pk)
        return row, True


@transaction.atomic
def undo_payment(
    row: PaymentReceived, document: dict[str, Any], signature: Signature, *, now: datetime
) -> PaymentReceived:
    """Entered by mistake, or sent back by the bank: reason. It stays to be seen, and counts for nothing."""
    row = PaymentReceived.objects.select_for_update().get(pk=row.pk)
    reader = entry_reader(document)
    reason = reader.text("reason")
    reader.finish()
    if row.undone_at is None:
        save_if_changed(row, {"undone_at": now, "undone_by_name": signature.by, "undone_reason": reason})
        fact_changed(row.job_id)
    return row
