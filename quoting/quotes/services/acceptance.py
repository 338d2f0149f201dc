"""The client's answer to a revision: taken once, kept as given, and told to whoever comes second."""

import json
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db import IntegrityError, transaction

from catalog.core.ground.refusal import Refused
from quoting.core.prices.options import OfferTotal, OptionError
from quoting.platform.formatting import day_words
from quoting.quotes.models import AnswerKind, AnswerWay, ClientAnswer, QuoteRevision, RevisionState
from quoting.quotes.services.answers import answer_of
from quoting.quotes.services.cancellation import Window, read_rule, window_of
from quoting.quotes.services.certificate_papers import request_certificate
from quoting.quotes.services.offers import total_of
from quoting.quotes.services.quote_papers import paper_of_revision
from quoting.quotes.services.revisions import move_revision
from quoting.quotes.services.signed import signing_changed
from quoting.quotes.services.snapshots import snapshot_of

LONGEST_NAME = 200
LONGEST_REASON = 2000
TAKEN = "Another revision of this quote is accepted already; nothing was changed."
STATE_OF = {AnswerKind.ACCEPTED: RevisionState.ACCEPTED, AnswerKind.DECLINED: RevisionState.DECLINED}


@dataclass(frozen=True)
class Given:
    """An answer as it was given. options: keys of those ticked. entered_by_name: of the firm, for one on paper."""

    kind: AnswerKind
    typed_name: str
    options: Sequence[str] = ()
    reason: str = ""
    from_address: str = ""
    entered_by_name: str = ""


def answer_revision(revision: QuoteRevision, given: Given, *, now: datetime, today: date) -> ClientAnswer:
    """Take the answer, freeze it, and ask for its certificate when it is an acceptance.

    today: the day in the firm's time zone. The same answer given twice is one. Raises Refused.
    """
    name, reason = checked_name(given.typed_name), checked_reason(given.reason)
    total = _total(revision, given)
    paper = paper_of_revision(revision)
    if given.kind == AnswerKind.ACCEPTED and paper is None:
        raise Refused("The paper of this quote is not made yet, and it is what is accepted. Try again shortly.")
    try:
        with transaction.atomic():
            moved = move_revision(
                revision.pk, STATE_OF[given.kind], now=now, by_name=name, reason=reason, valid_on=today
            )
            _refuse_second(moved, given)
            return _keep(moved, given, name, reason, total, paper.sha256 if paper else "", now, today)
    except Refused:
        kept = _same_again(revision, given, name, total)
        if kept is None:
            raise
        return kept
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
        told = f"from the day it was quoted, {day_words(revision.quoted_on)}, to today"
        raise Refused(f"Signed on is {day_words(day)}; it must be a day {told}.")


def window_on(revision: QuoteRevision, today: date) -> Window | None:
    """The window as it would be, were the revision accepted on that day."""
    return window_of(read_rule(snapshot_of(revision).get("cancellation")), today)


def _keep(
    revision: QuoteRevision,
    given: Given,
    name: str,
    reason: str,
    total: OfferTotal,
    paper_sha256: str,
    now: datetime,
    today: date,
) -> ClientAnswer:
    is_accepted = given.kind == AnswerKind.ACCEPTED
    window = window_on(revision, today) if is_accepted else None
    answer = ClientAnswer.objects.create(
        quote=revision.quote,
        revision=revision,
        answer=given.kind,
        way=AnswerWay.PAPER if given.entered_by_name else AnswerWay.PAGE,
        typed_name=name,
        reason=reason,
        options_chosen=json.dumps(_chosen(total), ensure_ascii=False),
        price=total.price,
        tax=total.tax,
        total=total.total,
        paper_sha256=paper_sha256,
        answered_at=now,
        answered_on=today,
        from_address=given.from_address,
        entered_by_name=given.entered_by_name,
        cancel_until=window.until if window else None,
        cancel_words=window.words if window else "",
    )
    if is_accepted:
        request_certificate(answer, now)
        signing_changed(revision.quote.job_id)
    return answer


def _chosen(total: OfferTotal) -> list[dict[str, str]]:
    return [{"key": one.key, "title": one.title, "price": str(one.price)} for one in total.options]


def _total(revision: QuoteRevision, given: Given) -> OfferTotal:
    try:
        return total_of(revision, given.options if given.kind == AnswerKind.ACCEPTED else ())
    except OptionError as error:
        raise Refused(str(error)) from error


def _same_again(revision: QuoteRevision, given: Given, name: str, total: OfferTotal) -> ClientAnswer | None:
    """What was kept before, when this is the same: a second press of the button is no second answer."""
    kept = answer_of(revision)
    if kept is None or (kept.answer, kept.typed_name) != (given.kind, name):
        return None
    return kept if kept.options == _chosen(total) else None


def checked_name(text: str) -> str:
    name = " ".join(text.split())
    if not any(sign.isalpha() for sign in name):
        raise Refused("Your name is missing: type it in full, as you would sign.")
    if len(name) > LONGEST_NAME:
        raise Refused(f"Your name is {len(name)} characters long; type at most {LONGEST_NAME}.")
    if any(unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Co", "Cn") for sign in name):
        raise Refused("Your name holds a sign that cannot be printed; type it with letters.")
    return name


def checked_reason(text: str) -> str:
    reason = text.strip()
    if len(reason) > LONGEST_REASON:
        raise Refused(f"The reason is {len(reason)} characters long; write at most {LONGEST_REASON:,}.")
    if "\0" in reason:
        raise Refused("The reason holds a sign that cannot be kept; type it anew.")
    return reason
