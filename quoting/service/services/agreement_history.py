"""What was agreed with the client, what came of it, and what was settled of orders, told in a job's history beside the
changes of its rows."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from jobs.deliveries.models import SettledDeviation
from jobs.jobs.models import Job
from quoting.changes.models import ChangeAnswer, ChangeNote, ChangeState
from quoting.client.models import ClientQuestion
from quoting.payment_requests.models import PaymentRequest
from quoting.platform.formatting import day_words, money_words
from quoting.quotes.models import ClientAnswer, QuoteRevision, RevisionState, TakeBack
from quoting.service.services.change_history import Change, EntryChange

# Told by what was kept of them: an answer, a taking back.
TOLD_BY_RECORDS = (RevisionState.ISSUED, RevisionState.ACCEPTED, RevisionState.DECLINED, RevisionState.TAKEN_BACK)


def agreement_changes(job: Job, *, with_requests: bool = False) -> list[Change]:
    """In no order. Seven queries, and one of requests for those who see them."""
    changes = [*_revisions(job), *_answers(job), *_taken_back(job), *_notes(job), *_note_answers(job), *_settled(job)]
    changes += _questions(job)
    return [*changes, *_requests(job)] if with_requests else changes


def _revisions(job: Job) -> Iterator[Change]:
    for row in QuoteRevision.objects.filter(quote__job=job).select_related("quote").defer("snapshot"):
        total = _entry("Total", money_words(row.total, row.currency))
        yield _told(row.issued_at, row.issued_by_name, str(row), "issued", total)
        if row.state not in TOLD_BY_RECORDS:
            who, did = row.state_by_name or "the service itself", row.get_state_display().lower()
            yield _told(row.state_at, who, str(row), did, _entry("Reason", row.state_reason))


def _answers(job: Job) -> Iterator[Change]:
    for row in ClientAnswer.objects.filter(quote__job=job).select_related("revision__quote"):
        total = row.total if row.answer == "accepted" else None
        entries = _answered(row, total, row.revision.currency)
        yield _told(row.answered_at, row.typed_name, str(row.revision), row.get_answer_display().lower(), *entries)


def _taken_back(job: Job) -> Iterator[Change]:
    for row in TakeBack.objects.filter(answer__quote__job=job).select_related("answer__revision__quote"):
        entries = (
            _entry("Notice given on", day_words(row.given_on)),
            _entry("How", row.get_way_display()),
            _entry("Entered by", row.entered_by_name),
            _entry("Reason", row.reason),
        )
        what = f"the acceptance of {row.answer.revision}"
        yield _told(row.kept_at, row.typed_name, what, "cancelled", *entries)


def _notes(job: Job) -> Iterator[Change]:
    for row in ChangeNote.objects.filter(job=job).select_related("job").defer("snapshot"):
        total = _entry("Total", money_words(row.total, row.currency))
        yield _told(row.issued_at, row.issued_by_name, str(row), "issued", _entry("What", row.title), total)
        if row.state == ChangeState.WITHDRAWN:
            yield _told(row.state_at, row.state_by_name, str(row), "withdrawn", _entry("Reason", row.state_reason))


def _note_answers(job: Job) -> Iterator[Change]:
    for row in ChangeAnswer.objects.filter(note__job=job).select_related("note__job"):
        entries = _answered(row, row.note.total if row.answer == "signed" else None, row.note.currency)
        yield _told(row.answered_at, row.typed_name, str(row.note), row.get_answer_display().lower(), *entries)


def _questions(job: Job) -> Iterator[Change]:
    for row in ClientQuestion.objects.filter(revision__quote__job=job):
        yield _told(row.asked_at, job.client.name, "a question", "asked", _entry("Question", row.text))
        if row.answered_at:
            yield _told(row.answered_at, row.answered_by_name, "a question", "answered", _entry("Question", row.text))


def _settled(job: Job) -> Iterator[Change]:
    for row in SettledDeviation.objects.filter(line__job=job).select_related("line__order"):
        what, did = f"order {row.line.order.number}, {row.line.what}", row.get_how_display().lower()
        yield _told(row.entered_at, row.entered_by_name, what, did, _entry("Reason", row.reason))


def _requests(job: Job) -> Iterator[Change]:
    for row in PaymentRequest.objects.filter(job=job).select_related("credits").defer("snapshot"):
        did = f"cancelled by {row}" if row.credits else "issued"
        what = str(row.credits or row).replace("Request", "payment request")
        total, reason = money_words(row.total, row.currency), _entry("Reason", row.reason)
        yield _told(
            row.issued_at, row.issued_by_name, what, did, _entry("For", row.what), _entry("To pay", total), reason
        )


def _answered(row: ClientAnswer | ChangeAnswer, total: Decimal | None, currency: str) -> tuple[EntryChange, ...]:
    return (
        _entry("Total", "" if total is None else money_words(total, currency)),
        _entry("How", row.get_way_display()),
        _entry("Entered by", row.entered_by_name),
        _entry("Reason", row.reason),
    )


def _entry(label: str, text: str) -> EntryChange:
    return EntryChange(label, "", text)


def _told(when: datetime, who: str, what: str, did: str, *entries: EntryChange) -> Change:
    return Change(when, who, what, did, tuple(entry for entry in entries if entry.after), is_event=True)
