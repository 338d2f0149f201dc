"""Money that came in from the client, and what of the deposit is open."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import As, Money, Stripped, read
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.reasons import Reason
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.services.row_sync import save_if_changed
from catalog.services.typed_money import entry_reader
from jobs.deliveries.services.order_events import MAX_NAME_LENGTH, day_come
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from jobs.orders.services.job_standings import job_standings
from quoting.payment_requests.models import PaymentReceived
from quoting.payment_requests.services.asked import asked_of
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import month_to_post

DEPOSIT = "Deposit"
NOTHING = Decimal("0.00")


@dataclass(frozen=True)
class NewPayment:
    """For the deposit where nothing else is said."""

    request_key: RequestKey
    amount: Annotated[Decimal, Money()]
    paid_ahead: Annotated[
        bool,
        "Of what is more than is asked for, which is refused otherwise.",
        As(label="Paid more than we asked for"),
    ] = False
    received_on: Annotated[date | None, As(label="Came in on")] = None
    what_for: Annotated[
        str, Stripped(MAX_NAME_LENGTH), As(label="For", hint="Deposit, or the event of the instalment.")
    ] = DEPOSIT


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
    """Those undone as well; what takes one of a closed month off again stands with it."""
    return list(PaymentReceived.objects.filter(job=job, undoes=None).select_related("undone_by"))


def received_sum(payments: Iterable[PaymentReceived]) -> Decimal:
    """What stands: undone ones count for nothing."""
    return sum((payment.amount for payment in payments if not payment.is_undone), NOTHING)


def deposit_of(job: Job) -> DepositStanding | None:
    """None while no quote is accepted: then no deposit is agreed."""
    # The day matters to the window of taking the acceptance back alone, which plays no part here.
    standing = job_standings([job.pk], date.min)[job.pk]
    return DepositStanding(standing.deposit_due, standing.deposit_received) if standing.accepted else None


def enter_payment(
    job: Job, document: dict[str, Any], signature: Signature, *, now: datetime
) -> tuple[PaymentReceived, bool]:
    """document: as `NewPayment`. Sent twice it is one payment."""
    with transaction.atomic():
        job = Job.objects.select_for_update().get(pk=job.pk)
        said = read(NewPayment, entry_reader(document))
        amount, day = said.amount, day_come(said.received_on, "received_on", signature)
        if not amount:
            raise DocumentError.at("amount", f"{amount} is not a payment; it is more than zero")
        text = {"job_id": job.pk, "amount": amount, "received_on": day, "what_for": said.what_for or DEPOSIT}
        present = PaymentReceived.objects.filter(request_key=said.request_key).first()
        if present is not None:
            refuse_another(any(getattr(present, name) != entry for name, entry in text.items()), "another payment")
            return present, False
        if not said.paid_ahead:
            _refuse_more_than_asked(job, amount)
        row = PaymentReceived.objects.create(
            request_key=said.request_key,
            **text,
            posted_month=month_to_post(day),
            entered_at=now,
            entered_by_name=signature.by,
        )
        fact_changed(job.pk)
        return row, True


def _refuse_more_than_asked(job: Job, amount: Decimal) -> None:
    request, deposit = asked_of([job.pk])[job.pk], deposit_of(job)
    open_sum = max(request.open, deposit.open if deposit else NOTHING)
    if amount > open_sum:
        message = f"{amount:,} is more than is asked for, {open_sum:,}; if the client paid ahead, say so"
        raise DocumentError.at("amount", message)


@transaction.atomic
def undo_payment(
    row: PaymentReceived, document: dict[str, Any], signature: Signature, *, now: datetime
) -> PaymentReceived:
    """Entered by mistake, or sent back by the bank: reason. It stays to be seen, and counts for nothing.

    Of a closed month the row stays as it is, and another takes its amount off in the first open month.
    """
    row = PaymentReceived.objects.select_for_update().get(pk=row.pk)
    reason = read(Reason, entry_reader(document)).reason
    if row.is_undone:
        return row
    if month_to_post(row.posted_month) == row.posted_month:
        save_if_changed(row, {"undone_at": now, "undone_by_name": signature.by, "undone_reason": reason})
    else:
        _take_off(row, reason, signature, now)
    fact_changed(row.job_id)
    return row


def _take_off(row: PaymentReceived, reason: str, signature: Signature, now: datetime) -> None:
    PaymentReceived.objects.create(
        job_id=row.job_id,
        request_key=f"undoes {row.pk}",
        amount=-row.amount,
        received_on=signature.on,
        posted_month=month_to_post(signature.on),
        what_for=row.what_for,
        entered_at=now,
        entered_by_name=signature.by,
        undone_reason=reason,
        undoes=row,
    )
