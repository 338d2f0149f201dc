"""The client's answer to a revision: taken once, kept as given, and told to whoever comes second."""

import json
from datetime import date, datetime

from django.db import IntegrityError, transaction

from catalog.core.ground.refusal import Refused
from jobs.jobs.services.changes import fact_changed
from quoting.core.prices.options import OfferTotal, OptionError
from quoting.platform.formatting import day_words
from quoting.platform.papers.models import Paper
from quoting.quotes.models import AnswerKind, ClientAnswer, QuoteRevision, RevisionState
from quoting.quotes.services.answers import answer_of
from quoting.quotes.services.cancellation import Window, read_rule, window_of
from quoting.quotes.services.certificate_papers import request_certificate
from quoting.quotes.services.given_answers import Given, columns_of
from quoting.quotes.services.offers import total_of
from quoting.quotes.services.quote_papers import paper_of_revision
from quoting.quotes.services.revisions import move_revision
from quoting.quotes.services.signed import signing_changed
from quoting.quotes.services.snapshots import snapshot_of

TAKEN = "Another revision of this quote is accepted already; nothing was changed."
STATE_OF = {AnswerKind.ACCEPTED: RevisionState.ACCEPTED, AnswerKind.DECLINED: RevisionState.DECLINED}


def answer_revision(revision: QuoteRevision, given: Given, *, now: datetime, today: date) -> ClientAnswer:
    """Take the answer, freeze it, and ask for its certificate when it is an acceptance.

    today: the day in the firm's time zone. The same answer given twice is one. Raises Refused.
    """
    given = given.checked()
    total = _total(revision, given)
    paper = paper_of_revision(revision)
    if given.kind == AnswerKind.ACCEPTED and paper is None:
        raise Refused("The paper of this quote is not made yet, and it is what is accepted. Try again shortly.")
    try:
        with transaction.atomic():
            state, by = STATE_OF[AnswerKind(given.kind)], given.typed_name
            moved = move_revision(revision.pk, state, now=now, by_name=by, reason=given.reason, valid_on=today)
            _refuse_second(moved, given)
            return _keep(moved, given, total, paper, now, today)
    except Refused:
        answer = _same_again(revision, given, total)
        if answer is None:
            raise
        return answer
    except IntegrityError as error:
        raise Refused(TAKEN) from error


def _refuse_second(revision: QuoteRevision, given: Given) -> None:
    """Besides the constraint on states: an acceptance that stands is one whose revision was not taken back."""
    standing = ClientAnswer.objects.filter(quote=revision.quote_id, answer=AnswerKind.ACCEPTED, taken_back=None)
    if given.kind == AnswerKind.ACCEPTED and standing.exists():
        raise Refused(TAKEN)


def check_signed_on(revision: QuoteRevision, day: date, today: date) -> None:
    """For what was signed on paper. Raises Refused."""
    if not revision.quoted_on <= day <= today:
        message = f"from the day it was quoted, {day_words(revision.quoted_on)}, to today"
        raise Refused(f"Signed on is {day_words(day)}; it must be a day {message}.")


def window_on(revision: QuoteRevision, today: date) -> Window | None:
    """The window as it would be, were the revision accepted on that day."""
    return window_of(read_rule(snapshot_of(revision).get("cancellation")), today)


def _keep(
    revision: QuoteRevision,
    given: Given,
    total: OfferTotal,
    paper: Paper | None,
    now: datetime,
    today: date,
) -> ClientAnswer:
    is_accepted = given.kind == AnswerKind.ACCEPTED
    window = window_on(revision, today) if is_accepted else None
    answer = ClientAnswer.objects.create(
        **columns_of(given, paper, now=now, today=today),
        quote=revision.quote,
        revision=revision,
        options_chosen=json.dumps(_chosen(total), ensure_ascii=False),
        price=total.price,
        tax=total.tax,
        total=total.total,
        cancel_until=window.until if window else None,
        cancel_words=window.words if window else "",
    )
    if is_accepted:
        request_certificate(answer, now)
        signing_changed(revision.quote.job_id)
    fact_changed(revision.quote.job_id)
    return answer


def _chosen(total: OfferTotal) -> list[dict[str, str]]:
    return [{"key": option.key, "title": option.title, "price": str(option.price)} for option in total.options]


def _total(revision: QuoteRevision, given: Given) -> OfferTotal:
    try:
        return total_of(revision, given.options if given.kind == AnswerKind.ACCEPTED else ())
    except OptionError as error:
        raise Refused(str(error)) from error


def _same_again(revision: QuoteRevision, given: Given, total: OfferTotal) -> ClientAnswer | None:
    """What was kept before, when this is the same: a second press of the button is no second answer."""
    answer = answer_of(revision)
    if answer is None or (answer.answer, answer.typed_name) != (given.kind, given.typed_name):
        return None
    return answer if answer.options == _chosen(total) else None
