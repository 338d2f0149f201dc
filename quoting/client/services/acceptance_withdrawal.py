"""An acceptance taken back within its cancellation window: once, on a day of the window, and kept as it was given."""

from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction
from django.db.models import Q

from catalog.core.ground.refusal import Refused
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from quoting.changes.models import ChangeDraft, ChangeNote, ChangeState
from quoting.payment_requests.services.issuing import refuse_requests_out
from quoting.platform.formatting import day_words
from quoting.quotes.models import AnswerKind, ClientAnswer, QuoteRevision, RevisionState, TakeBack, TakeBackWay
from quoting.quotes.services.answers import answer_of, taking_back_of
from quoting.quotes.services.given_answers import checked_name, checked_reason
from quoting.quotes.services.signed import signing_changed


@dataclass(frozen=True)
class Notice:
    """What the client said. given_on: the day it was said, at the firm. entered_by_name: of the firm, unless the
    client wrote it on their own page."""

    typed_name: str
    given_on: date
    way: TakeBackWay = TakeBackWay.PAGE
    reason: str = ""
    from_address: str = ""
    entered_by_name: str = ""


def take_back(revision: QuoteRevision, notice: Notice, *, now: datetime, today: date) -> TakeBack:
    """Take the acceptance back, and with it every change note that waits. The same notice given twice is one.

    Raises Refused.
    """
    name, reason = checked_name(notice.typed_name), checked_reason(notice.reason)
    if notice.entered_by_name and not reason:
        raise Refused("The reason is missing: write what the client said, or that none was given.")
    _check_day(revision, notice.given_on, today)
    with transaction.atomic():
        _lock(revision.quote.job_id)
        refuse_requests_out(revision.pk)
        if _move(revision, notice.given_on, now=now, by_name=name, reason=reason):
            _end_changes(revision, now, name)
            back = _keep(revision, notice, name, reason, now)
            signing_changed(revision.quote.job_id)
            fact_changed(revision.quote.job_id)
            return back
    before = taking_back_of(revision)
    if before is not None and (before.typed_name, before.given_on) == (name, notice.given_on):
        return before
    state = QuoteRevision.objects.get(pk=revision.pk).get_state_display().lower()
    raise Refused(f"{revision} is {state}, and that is final.")


def _check_day(revision: QuoteRevision, given_on: date, today: date) -> None:
    answer = answer_of(revision)
    if answer is None or answer.answer != AnswerKind.ACCEPTED:
        raise Refused(f"{revision} was not accepted, so there is nothing to cancel.")
    if answer.cancel_until is None:
        raise Refused(f"{revision} states no days in which it can be cancelled. Changes now go into a change note.")
    if not answer.answered_on <= given_on <= today:
        raise Refused(
            f"The day of the notice is {day_words(given_on)}; it must be a day from the acceptance, "
            f"{day_words(answer.answered_on)}, to today."
        )
    if given_on > answer.cancel_until:
        raise Refused(
            f"It could be cancelled up to and including {day_words(answer.cancel_until)}; that day has "
            "passed. Changes now go into a change note."
        )


def _lock(job_id: int) -> None:
    """As issuing a change note does: of the two one comes first, and no note is issued to what is taken back."""
    Job.objects.select_for_update().get(pk=job_id)


def _move(revision: QuoteRevision, given_on: date, *, now: datetime, by_name: str, reason: str) -> bool:
    """One conditional UPDATE from "accepted", on a day of the window: of two the second is told."""
    in_time = ClientAnswer.objects.filter(
        answer=AnswerKind.ACCEPTED, answered_on__lte=given_on, cancel_until__gte=given_on
    )
    standing = QuoteRevision.objects.filter(
        pk=revision.pk, state=RevisionState.ACCEPTED, pk__in=in_time.values("revision")
    )
    return bool(
        standing.update(state=RevisionState.TAKEN_BACK, state_at=now, state_by_name=by_name, state_reason=reason)
    )


def _keep(revision: QuoteRevision, notice: Notice, name: str, reason: str, now: datetime) -> TakeBack:
    return TakeBack.objects.create(
        answer=ClientAnswer.objects.get(revision=revision),
        way=notice.way,
        typed_name=name,
        reason=reason,
        given_on=notice.given_on,
        kept_at=now,
        from_address=notice.from_address,
        entered_by_name=notice.entered_by_name,
    )


def _end_changes(revision: QuoteRevision, now: datetime, by_name: str) -> None:
    """Notes that wait are withdrawn, and drafts that count from what was agreed are taken away."""
    ChangeNote.objects.filter(revision=revision, state=ChangeState.ISSUED).update(
        state=ChangeState.WITHDRAWN,
        state_at=now,
        state_by_name=by_name,
        state_reason=f"The client cancelled {revision}.",
    )
    counted = Q(kind="allowance") | ~Q(walls_mark="")
    for draft in ChangeDraft.objects.filter(counted, job=revision.quote.job_id):
        draft.delete()
