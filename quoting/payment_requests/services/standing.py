"""What of a job can be asked for, what was, and what each part waits for."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from jobs.jobs.models import Job
from quoting.changes.models import ChangeNote, ChangeState
from quoting.changes.services.contracts import accepted_revision
from quoting.core.money.request_parts import Agreed, Parts, RequestError
from quoting.core.money.requests import (
    DEPOSIT,
    NOTES,
    RELEASE,
    Request,
    SignedNote,
    instalment_part,
    is_on_signing,
    next_request,
)
from quoting.core.prices.payments import Instalment
from quoting.payment_requests.models import EventMark, JobRetention, PaymentRequest
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.answers import answer_of
from quoting.quotes.services.offers import total_of

WHOLE = Instalment("The work is done", Decimal(1))


@dataclass(frozen=True)
class PartAsked:
    """A part of the contract. event_on: the day its event happened, None while nobody has marked it. live: the request
    it stands on. next: what would be asked for now, None where that cannot be; why says so."""

    part: str
    what: str
    event_on: date | None
    live: PaymentRequest | None
    next: Request | None = None
    why: str = ""

    @property
    def can_be_issued(self) -> bool:
        return self.next is not None and self.event_on is not None

    @property
    def can_be_marked(self) -> bool:
        return self.event_on is None and self.part not in (DEPOSIT, NOTES)


@dataclass(frozen=True)
class JobRequests:
    """rows: every request of the accepted revision, those credited and those that credit too, by number."""

    job: Job
    revision: QuoteRevision
    agreed: Agreed
    signed_on: date
    retention: JobRetention | None
    notes: tuple[ChangeNote, ...]
    rows: tuple[PaymentRequest, ...]
    marks: dict[str, EventMark]

    @property
    def live_rows(self) -> tuple[PaymentRequest, ...]:
        gone = {row.credits_id for row in self.rows}
        return tuple(row for row in self.rows if row.credits_id is None and row.pk not in gone)

    @property
    def live(self) -> tuple[Request, ...]:
        return tuple(row.to_core(tuple(note.note.number for note in row.notes.all())) for row in self.live_rows)

    @property
    def signed(self) -> tuple[SignedNote, ...]:
        return tuple(SignedNote(note.number, Parts(note.price, note.tax)) for note in self.notes)

    def parts(self) -> Iterator[PartAsked]:
        """In the order they are asked for."""
        live = {row.part: row for row in self.live_rows if row.part != NOTES}
        for part in self._names(live):
            row = live.get(part)
            if row is not None:
                yield PartAsked(part, row.what, row.event_on, row)
                continue
            request, why = self.worked_out(part)
            yield PartAsked(part, self.what_of(part), self.event_day(part), None, request, why)

    def _names(self, live: dict[str, PaymentRequest]) -> Iterator[str]:
        if DEPOSIT in live or (self.agreed.deposit and not self.live_rows):
            yield DEPOSIT
        yield from (instalment_part(place) for place in range(len(self.agreed.instalments)))
        if self.agreed.retention is not None:
            yield RELEASE
        if self.worked_out(NOTES)[0] is not None:
            yield NOTES

    def worked_out(self, part: str) -> tuple[Request | None, str]:
        """What would be asked for, or why that cannot be."""
        try:
            return next_request(self.agreed, part, self.live, self.signed), ""
        except RequestError as error:
            return None, str(error)

    def event_day(self, part: str) -> date | None:
        if part == NOTES:
            on_one = {number for request in self.live for number in request.notes}
            return max((note.answer.answered_on for note in self.notes if note.number not in on_one), default=None)
        if part == DEPOSIT or (part != RELEASE and is_on_signing(self.event_of(part))):
            return self.signed_on
        mark = self.marks.get(part)
        return mark.happened_on if mark else None

    def event_of(self, part: str) -> str:
        """What a part waits for, as the quote or the owner says it."""
        if part == RELEASE:
            return self.retention.event if self.retention else ""
        names = {instalment_part(place): instalment.event for place, instalment in enumerate(self.agreed.instalments)}
        return names.get(part, "")

    def what_of(self, part: str) -> str:
        """As the client reads it."""
        if part == DEPOSIT:
            return "Deposit"
        if part == NOTES:
            return "Change notes"
        return f"What was held back: {self.event_of(part)}" if part == RELEASE else self.event_of(part)


def requests_of(job: Job) -> JobRequests | None:
    """None while no quote is accepted: then nothing can be asked for."""
    revision = accepted_revision(job)
    if revision is None:
        return None
    retention = JobRetention.objects.filter(job=job).first()
    notes = ChangeNote.objects.filter(revision=revision, state=ChangeState.SIGNED).select_related("answer")
    rows = PaymentRequest.objects.filter(revision=revision).defer("snapshot").prefetch_related("notes__note")
    marks = EventMark.objects.filter(revision=revision, voided_at=None)
    agreed, signed_on = agreed_of(revision, retention)
    return JobRequests(
        job,
        revision,
        agreed,
        signed_on,
        retention,
        tuple(notes.defer("snapshot").order_by("number")),
        tuple(rows),
        {mark.part: mark for mark in marks},
    )


def agreed_of(revision: QuoteRevision, retention: JobRetention | None) -> tuple[Agreed, date]:
    """What was accepted, and the day it was. A quote without instalments is asked for once the work is done."""
    answer = answer_of(revision)
    total = total_of(revision, [option["key"] for option in answer.options] if answer else ())
    instalments = tuple(Instalment(instalment.event, instalment.share) for instalment in total.instalments) or (WHOLE,)
    deposit = total.deposit.amount if total.deposit else Parts().price
    held = retention.to_core() if retention else None
    day = answer.answered_on if answer else revision.state_at.date()
    return Agreed(Parts(total.price, total.tax), instalments, deposit, held), day
