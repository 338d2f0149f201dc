"""A request issued from an event, or credited by another: each once, numbered without a gap, frozen with its paper."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction
from django.db.models import F

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Money, Stripped, read
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.reasons import MAX_WHY
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.services.typed_money import entry_reader
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from quoting.core.money.requests import NOTES, RELEASE, Request
from quoting.payment_requests.models import PaymentRequest, RequestedNote, RequestSequence, RequestTerms
from quoting.payment_requests.models.requests import FIGURES
from quoting.payment_requests.papers.request_sheet import RequestPaper
from quoting.payment_requests.services.entered import agreed_requests, held_job
from quoting.payment_requests.services.events import Part
from quoting.payment_requests.services.request_paper import credit_paper, request_paper
from quoting.payment_requests.services.request_papers import ask_for_paper, frozen_request, request_snapshot
from quoting.payment_requests.services.standing import JobRequests
from quoting.payment_requests.services.terms import terms_of_requests
from quoting.platform.firm_day import signature_of
from quoting.platform.papers.mark import with_mark
from quoting.platform.people.models import Person
from quoting.platform.posting import month_to_post
from quoting.quotes.services.snapshots import hash_of

LATEST_DUE = timedelta(days=365)


class NotAsShown(Refused):
    """A note was signed, or something else changed, since the sum was shown; nothing was issued."""

    path = "shown"


@dataclass(frozen=True)
class _Head:
    """What a request is stored under, besides its figures."""

    key: str
    by: Person
    now: datetime
    on: date


@dataclass(frozen=True)
class NewRequest:
    """A part of the price whose event is marked."""

    request_key: Annotated[RequestKey, As(example="boards-up")]
    part: Annotated[Part, As(example="instalment 1")]
    due: Annotated[date | None, "By the firm's terms where it is not said.", As(example="2027-06-04")] = None
    shown: Annotated[
        Decimal | None,
        Money(allow_negative=True),
        "The sum to pay as it was shown; no other is issued.",
        As(example="8864.59"),
    ] = None


@dataclass(frozen=True)
class NewCreditOfRequest:
    """The request is taken back whole."""

    request_key: RequestKey
    reason: Annotated[str, Stripped(MAX_WHY), As(label="Why", hint="The client reads it.")]


def issue_request(job: Job, document: dict[str, Any], by: Person, *, now: datetime) -> tuple[PaymentRequest, bool]:
    """document: as `NewRequest`. Safe to repeat. Raises Refused, with nothing stored; DocumentError."""
    with transaction.atomic():
        job = held_job(job)
        said, on = read(NewRequest, entry_reader(document)), signature_of(by, now).on
        key, part, due, shown = said.request_key, said.part, said.due, said.shown
        if due is not None and not on <= due <= on + LATEST_DUE:
            raise DocumentError.at(
                "due", f"{day_words(due)} is not a day to pay by; it is from today, {day_words(on)}, to a year ahead"
            )
        present = PaymentRequest.objects.filter(request_key=key).first()
        if present is not None:
            refuse_another((present.job_id, present.part) != (job.pk, part), "another request")
            return present, False
        request, terms = agreed_requests(job), _terms()
        wanted, event_on = _asked(request, part)
        if shown is not None and shown != wanted.to_pay.total:
            message = (
                f"is {shown:,}, and it is {wanted.to_pay.total:,} by now. Nothing was issued: look again, then issue"
            )
            raise NotAsShown(message)
        due = due or on + timedelta(days=terms.days_to_pay)
        return _freeze(request, wanted, terms, _Head(key, by, now, on), event_on, due), True


def _terms() -> RequestTerms:
    terms = terms_of_requests()
    if terms is None:
        raise Refused("How clients pay is not entered yet. The owner enters it under Firm, then issue.")
    return terms


def _asked(request: JobRequests, part: str) -> tuple[Request, date]:
    wanted, why = request.worked_out(part)
    if wanted is None:
        raise Refused(why)
    event_on = request.event_day(part)
    if event_on is None:
        event = request.event_of(part)
        raise Refused(f"“{event}” has not been marked. Mark the day it happened, then ask for it.")
    return wanted, event_on


def _freeze(
    request: JobRequests, wanted: Request, terms: RequestTerms, head: _Head, event_on: date, due: date
) -> PaymentRequest:
    number, what = next_number(), _what(request, wanted)
    filled = request_paper(request, wanted, what, terms, number=number, on=head.on, event_on=event_on, due=due)
    paper = with_mark(filled)
    turn = sum(1 for row in request.rows if row.part == wanted.part)
    figures = {
        f"{figure}_{part}": getattr(getattr(wanted, figure), part) for figure in FIGURES for part in ("price", "tax")
    }
    row = _stored(
        request,
        head,
        paper,
        number=number,
        part=wanted.part,
        turn=turn,
        what=what,
        event_on=event_on,
        due=due,
        price=wanted.to_pay.price,
        tax=wanted.to_pay.tax,
        total=wanted.to_pay.total,
        **figures,
    )
    turns = [note.note_id for before in request.rows for note in before.notes.all()]
    RequestedNote.objects.bulk_create(
        RequestedNote(request=row, note=note, turn=turns.count(note.pk))
        for note in request.notes
        if note.number in wanted.notes
    )
    ask_for_paper(row, head.now)
    fact_changed(request.job.pk)
    return row


def _stored(request: JobRequests, head: _Head, paper: RequestPaper, **figures: Any) -> PaymentRequest:
    snapshot = request_snapshot(paper)
    return PaymentRequest.objects.create(
        job=request.job,
        revision=request.revision,
        request_key=head.key,
        day=head.on,
        posted_month=month_to_post(head.on),
        currency=request.revision.currency,
        snapshot=snapshot,
        snapshot_sha256=hash_of(snapshot),
        issued_at=head.now,
        issued_by=head.by,
        issued_by_name=head.by.full_name,
        **figures,
    )


def _what(request: JobRequests, wanted: Request) -> str:
    if wanted.part == NOTES:
        return f"Change note{'s' if len(wanted.notes) > 1 else ''} {', '.join(str(note) for note in wanted.notes)}"
    return request.what_of(wanted.part)


def next_number() -> int:
    """Taken inside the transaction that uses it: the row stays locked to its end, so no number is lost."""
    RequestSequence.objects.get_or_create(pk=RequestSequence.ONLY_ID)
    RequestSequence.objects.update(last=F("last") + 1)
    return RequestSequence.objects.get().last


def credit_request(
    row: PaymentRequest, document: dict[str, Any], by: Person, *, now: datetime
) -> tuple[PaymentRequest, bool]:
    """document: as `NewCreditOfRequest`. What the request asked for may then be asked for anew.

    Safe to repeat. Raises Refused.
    """
    with transaction.atomic():
        job = held_job(row.job)
        said, on = read(NewCreditOfRequest, entry_reader(document)), signature_of(by, now).on
        key = said.request_key
        row = PaymentRequest.objects.select_related("revision").get(pk=row.pk)
        present = PaymentRequest.objects.filter(request_key=key).first()
        if present is not None:
            refuse_another(present.credits_id != row.pk, "another request")
            return present, False
        request = agreed_requests(job)
        _refuse_credit(request, row)
        return _credit(request, row, _Head(key, by, now, on), said.reason), True


def _refuse_credit(request: JobRequests, row: PaymentRequest) -> None:
    if row.credits_id is not None:
        raise Refused(f"{row} is a credit. Ask for the part again instead.")
    by = PaymentRequest.objects.filter(credits=row).first()
    if by is not None:
        raise Refused(f"{row} is credited by {by} already.")
    after = next((entry for entry in request.live_rows if _rests_on(entry, row)), None)
    if after is not None:
        raise Refused(f"{after} rests on {row}. Credit {after} first.")


def _rests_on(request: PaymentRequest, row: PaymentRequest) -> bool:
    """A later one that credits its deposit, or that releases what it holds."""
    if request.pk == row.pk:
        return False
    takes_deposit = row.part == "deposit" and bool(request.credited_price or request.credited_tax)
    return takes_deposit or (request.part == RELEASE and bool(row.held_price or row.held_tax))


def _credit(request: JobRequests, row: PaymentRequest, head: _Head, reason: str) -> PaymentRequest:
    number, paper = next_number(), frozen_request(row)
    filled = credit_paper(row, paper, terms_of_requests(), number=number, on=head.on, reason=reason)
    names = [f"{figure}_{part}" for figure in FIGURES for part in ("price", "tax")]
    figures = {name: -getattr(row, name) for name in (*names, "price", "tax", "total")}
    credit = _stored(
        request,
        head,
        filled,
        number=number,
        part=f"credit {row.number}",
        turn=0,
        what=f"Request {row.number} cancelled",
        event_on=row.event_on,
        due=head.on,
        credits=row,
        reason=reason,
        **figures,
    )
    ask_for_paper(credit, head.now)
    fact_changed(request.job.pk)
    return credit


def refuse_requests_out(revision_id: int) -> None:
    """Before an acceptance is taken back. Raises Refused."""
    out = PaymentRequest.objects.filter(revision=revision_id, credits=None, credited_by=None)
    numbers = [str(entry) for entry in out.order_by("number").values_list("number", flat=True)]
    if numbers:
        named = (
            f"Payment request {numbers[0]} is" if len(numbers) == 1 else f"Payment requests {', '.join(numbers)} are"
        )
        raise Refused(f"{named} out. Credit the requests first, then enter the cancellation.")
