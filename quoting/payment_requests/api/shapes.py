"""What is asked for, paid and held, and how it is entered."""

from collections.abc import Iterable
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any, NamedTuple

from catalog.core.ground.declared import Amount, As, Choice, Figure, Of, View, itself
from catalog.core.ground.reasons import WhyTakenBack
from quoting.core.money.request_parts import NOTHING, Parts
from quoting.core.money.settling import STATE_WORDS, Asked, Standing
from quoting.payment_requests.models import EventMark, JobRetention, PaymentReceived, PaymentRequest
from quoting.payment_requests.services.events import NewEventMark
from quoting.payment_requests.services.issuing import NewCreditOfRequest, NewRequest
from quoting.payment_requests.services.payments_received import DepositStanding, NewPayment, received_sum
from quoting.payment_requests.services.standing import PartAsked
from quoting.payment_requests.services.statements import Entry
from quoting.payment_requests.services.terms import NewRequestTerms, NewRetention
from quoting.platform.api.declared import answer_shapes, request_shapes
from quoting.platform.errands.models import ErrandState
from quoting.platform.models.mail_ways import MailWay
from quoting.pricing.models.shares import join_share

Money = Annotated[Decimal, Amount()]


class IssuedShown(View):
    """A request as it was frozen."""

    number: int
    part: str
    what: str
    day: date
    event_on: date
    due: date
    currency: str
    asked: Annotated[Parts, Of(lambda row: row.parts("asked"))]
    noted: Annotated[Parts, Of(lambda row: row.parts("noted"))]
    credited: Annotated[Parts, Of(lambda row: row.parts("credited"))]
    held: Annotated[Parts, Of(lambda row: row.parts("held"))]
    notes: Annotated[tuple[int, ...], Of(lambda row: [note.note.number for note in row.notes.all()])]
    to_pay: Parts


class OfACredit(NamedTuple):
    """What a credit has in place of a standing: nobody pays it."""

    open: Decimal = NOTHING
    paid: Decimal = NOTHING
    state: str = "credit"
    request: None = None


class RequestRead(NamedTuple):
    row: PaymentRequest
    standing: Standing | OfACredit


def requests_read(rows: Iterable[PaymentRequest], asked: Asked) -> list[RequestRead]:
    standings = {standing.request.number: standing for standing in asked.requests}
    return [RequestRead(row, standings.get(row.number) or OfACredit()) for row in rows]


class PaymentRequestShown(View):
    """Frozen when it was issued.

    asked, noted, credited, held: of the part, of change notes, of the deposit, held back; the last two are taken off.
    to_pay is under 0 of a credit. credits: the request it takes back; credited_by: what takes this back.
    """

    document_name = "payment_request"

    issued: Annotated[IssuedShown, As(spread=True), Of("row")]
    open: Annotated[Money, Of("standing.open")]
    paid: Annotated[Money, Of("standing.paid")]
    state: Annotated[str, Choice((*STATE_WORDS, "credit")), Of("standing.state")]
    credits: Annotated[int | None, Of("row.credits.number")]
    credited_by: Annotated[int | None, Of("standing.request.credited_by")]
    reason: Annotated[str, Of("row.reason")]
    issued_by: Annotated[str, Of("row.issued_by_name")]
    sha256: Annotated[str, Of("row.snapshot_sha256")]


class PartAskedShown(View):
    """A part without event_on waits for its event; to_pay is null where `why` stands in the way."""

    document_name = "part_asked"

    part: str
    what: str
    event_on: date | None
    request: Annotated[int | None, Of("live.number")]
    to_pay: Annotated[Parts | None, Of("next.to_pay")]
    why: str


class EventMarkShown(View):
    """Marked as happened; taken back, it counts for nothing."""

    document_name = "event_mark"

    id: int
    part: str
    event: str
    happened_on: date
    marked_by: Annotated[str, Of("marked_by_name")]
    taken_back_by: Annotated[str, Of("voided_by_name")]
    reason: Annotated[str, Of("void_reason")]


class RequestsRead(NamedTuple):
    requests: list[RequestRead]
    parts: Iterable[PartAsked]
    events: list[EventMark]
    asked: Asked
    today: date


def _overdue(read: RequestsRead) -> Decimal:
    return sum((standing.open for standing in read.asked.overdue(read.today)), NOTHING)


class JobRequestsShown(View):
    """What was asked for of a job, oldest first, and what can be. ahead: came in, and nothing asks for it."""

    document_name = "job_requests"

    requests: tuple[PaymentRequestShown, ...]
    parts: tuple[PartAskedShown, ...]
    events: tuple[EventMarkShown, ...]
    requested: Annotated[Parts, Of("asked.requested")]
    billed: Annotated[Money, "Price parts requested, what is held included.", Of("asked.billed")]
    held: Annotated[Parts, Of("asked.held")]
    paid: Annotated[Money, Of("asked.paid")]
    open: Annotated[Money, Of("asked.open")]
    overdue: Annotated[Money, Of(_overdue)]
    ahead: Annotated[Money, Of("asked.ahead")]


class MailShown(View):
    """A mail that is sent once."""

    to_address: str
    message: str
    asked_at: datetime
    asked_by: Annotated[str, Of("asked_by_name")]
    sent_at: Annotated[datetime | None, Of("left_at")]
    went_by: Annotated[str, Choice(("", *MailWay.values)), "folder or log: kept on the machine, and not sent."]


class RequestMailShown(View):
    """A mail to the client: asked for, and sent at `sent_at`."""

    document_name = "request_mail"

    mail: Annotated[MailShown, As(spread=True), Of(lambda pair: pair[0])]
    state: Annotated[str, Choice(("none", *ErrandState.values)), Of(lambda pair: pair[1].state if pair[1] else "none")]
    error: Annotated[str, Of(lambda pair: pair[1].error if pair[1] else "")]


class RequestMailsShown(View):
    """The latest first."""

    document_name = "request_mails"

    mails: Annotated[tuple[RequestMailShown, ...], Of(itself)]


def _share(row: JobRetention) -> Any:
    return None if row.share_count is None else join_share(row.share_count, row.share_parts)


class RetentionShown(View):
    """What the client holds back of each request until an event; share 0 holds nothing. Null before it is set."""

    document_name = "retention"

    share: Annotated[Decimal | None, Figure(), Of(_share)]
    event: str
    holds_tax: bool


class RequestTermsShown(View):
    """What each request prints; how_to_pay is empty before the owner has entered it, and nothing is issued."""

    document_name = "request_terms"

    tax_number: str
    days_to_pay: int
    how_to_pay: str


class StatementJobShown(View):
    """One job of a client."""

    document_name = "statement_job"

    job: Annotated[str, Of("job.key")]
    open: Annotated[Money, Of("asked.open")]
    held: Annotated[Money, Of("asked.held.total")]
    entries: tuple[Entry, ...]


class StatementShown(View):
    """Requests and payments of all jobs of a client by day."""

    document_name = "statement"

    client: Annotated[str, Of("client.name")]
    day: Annotated[date, Of("today")]
    open: Money
    overdue: Money
    ahead: Money
    jobs: tuple[StatementJobShown, ...]


def _undone_by(row: PaymentReceived) -> str:
    """Once its month is closed, what takes it off says so."""
    return str(row.taken_off.entered_by_name if row.taken_off else row.undone_by_name)


class PaymentShown(View):
    """Undone ones count for nothing."""

    document_name = "payment"

    id: int
    amount: Money
    received_on: date
    what_for: str
    entered_by: Annotated[str, Of("entered_by_name")]
    undone_by: Annotated[str, Of(_undone_by)]
    undone_reason: Annotated[str, Of(lambda row: (row.taken_off or row).undone_reason)]


class DepositShown(View):
    """What of the deposit came in."""

    document_name = "deposit_standing"

    due: Money
    received: Money
    open: Money


class PaymentsRead(NamedTuple):
    payments: list[PaymentReceived]
    deposit: DepositStanding | None


class PaymentsShown(View):
    """Money received of the client. The deposit is null while no quote is accepted."""

    document_name = "payments"

    payments: tuple[PaymentShown, ...]
    received: Annotated[Money, Of(lambda read: received_sum(read.payments))]
    deposit: DepositShown | None


SHAPES: dict[str, Any] = {
    **answer_shapes(
        JobRequestsShown, RequestMailsShown, RetentionShown, RequestTermsShown, StatementShown, PaymentsShown
    ),
    **request_shapes(
        NewRequest, NewCreditOfRequest, NewEventMark, WhyTakenBack, NewRetention, NewRequestTerms, NewPayment
    ),
}
