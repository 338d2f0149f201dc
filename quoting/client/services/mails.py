"""Sending a revision, or a change note to it, to the client: asked for once, begun once, and never sent twice."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import NamedTuple

from django.conf import settings
from django.db import transaction

from catalog.core.ground.refusal import Refused
from quoting.changes.models import ChangeNote, ChangeState
from quoting.client.models import ClientLink, QuoteMail
from quoting.client.services.client_links import make_link
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.mail import addresses_of, message_text
from quoting.platform.mail_once import IN_DOUBT
from quoting.platform.papers.models import Paper
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.quotes.services.revisions import is_acceptable

MAIL_QUOTE = "mail_quote"


class SentMail(NamedTuple):
    mail: QuoteMail
    errand: Errand | None


@dataclass(frozen=True)
class Begun:
    """What is about to be handed to the mail server. secret: of the link, nowhere kept."""

    mail: QuoteMail
    secret: str


@transaction.atomic
def request_mail(
    revision: QuoteRevision,
    *,
    to_address: str,
    message: str,
    origin: str,
    request_key: str,
    by_name: str,
    now: datetime,
    today: date,
    note: ChangeNote | None = None,
    with_paper_to_come: bool = False,
) -> QuoteMail:
    """origin: where the client's page is, such as https://quotes.example; a setting stands before it.

    note: the change note to the revision that is sent, instead of the revision itself. with_paper_to_come: it waits
    for its paper, and goes once that is kept. The same request_key sends once. Raises Refused.
    """
    if not 0 < len(request_key) <= 100 or not request_key.isprintable():
        raise Refused("A request is named by 1 to 100 characters; ask from a fresh page.")
    known = asked_before(revision, request_key, note)
    if known is not None:
        return known
    _check_standing(revision, note, today)
    has_paper = paper_sent(revision, note) is not None
    if not has_paper and not with_paper_to_come:
        sentence = f"The paper of {note or revision} is not made yet, and it goes with the mail. Send it once it is."
        raise Refused(sentence)
    mail = QuoteMail.objects.create(
        revision=revision,
        change_note=note,
        request_key=request_key,
        to_address=", ".join(addresses_of(to_address)),
        message=message_text(message),
        origin=(settings.CLIENT_ORIGIN or origin).rstrip("/"),
        asked_at=now,
        asked_by_name=by_name,
    )
    if has_paper:
        _queue(mail, now)
    return mail


def send_when_ready(revision: QuoteRevision, now: datetime) -> None:
    """What waits for the paper of a revision goes once it is kept."""
    for mail in QuoteMail.objects.filter(revision=revision, change_note=None, sent_at=None):
        _queue(mail, now)


def _queue(mail: QuoteMail, now: datetime) -> None:
    queue_errand(MAIL_QUOTE, _key_of(mail), {"mail": mail.pk}, now)


def asked_before(revision: QuoteRevision, request_key: str, note: ChangeNote | None = None) -> QuoteMail | None:
    known = QuoteMail.objects.filter(request_key=request_key).first()
    if known is not None and (known.revision_id, known.change_note_id) != (revision.pk, note and note.pk):
        raise Refused("This request has sent another paper; open the page of this one again.")
    return known


def paper_sent(revision: QuoteRevision, note: ChangeNote | None) -> Paper | None:
    rows = Paper.objects.select_related("job", "revision__quote", "change_note")
    return rows.filter(**({"change_note": note} if note else {"revision": revision})).first()


def mail_errand(mail: QuoteMail) -> Errand | None:
    return Errand.objects.filter(kind=MAIL_QUOTE, key=_key_of(mail)).first()


def list_mails(revision: QuoteRevision, note: ChangeNote | None = None) -> list[SentMail]:
    """Of the revision itself, or of a change note to it; the latest first."""
    rows = QuoteMail.objects.filter(revision=revision, change_note=note).select_related("revision__quote")
    return [SentMail(mail, mail_errand(mail)) for mail in rows]


@transaction.atomic
def begin_mail(mail_id: int, *, now: datetime, today: date) -> Begun:
    """Make the link and say that sending has begun, in one. Raises Refused, also when it had begun before."""
    rows = QuoteMail.objects.select_for_update(of=("self",)).select_related("revision__quote__job", "change_note__job")
    mail = rows.get(pk=mail_id)
    if mail.began_at is not None:
        raise Refused(IN_DOUBT)
    _check_standing(mail.revision, mail.change_note, today)
    mail.link, secret = make_link(mail.revision_id, now=now, today=today, by_name=mail.asked_by_name)
    mail.began_at = now
    mail.save(update_fields=["link", "began_at"])
    return Begun(mail, secret)


@transaction.atomic
def take_back_beginning(mail: QuoteMail, now: datetime) -> None:
    """For when the mail server surely has not got it: it may be begun again."""
    ClientLink.objects.filter(pk=mail.link_id, withdrawn_at=None).update(withdrawn_at=now)
    QuoteMail.objects.filter(pk=mail.pk, sent_at=None).update(link=None, began_at=None)


def _check_standing(revision: QuoteRevision, note: ChangeNote | None, today: date) -> None:
    if note is None:
        if not is_acceptable(revision, today):
            raise Refused(f"{revision} can no longer be accepted, so it is not sent. Issue a new revision first.")
    elif note.state != ChangeState.ISSUED or revision.state != RevisionState.ACCEPTED:
        raise Refused(f"{note} can no longer be signed, so it is not sent.")


def _key_of(mail: QuoteMail) -> str:
    return f"{mail.revision.quote.number} revision {mail.revision.number} mail {mail.pk}"
