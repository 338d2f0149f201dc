"""The mail itself: what it says of a revision or of a change note, with the paper, and the address of its page."""

from datetime import date, datetime
from typing import Any

from django.conf import settings
from django.core.mail import EmailMessage
from django.urls import reverse

from quoting.changes.services.change_snapshots import frozen_change_paper
from quoting.client.models import QuoteMail
from quoting.client.services.client_links import make_link
from quoting.client.services.mails import Begun, paper_sent
from quoting.platform.mail_once import mail_with_paper
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.snapshots import frozen_paper


def message_of(begun: Begun) -> EmailMessage:
    """The mail itself, the paper with it. Raises PaperNotKept."""
    mail, row = begun.mail, paper_sent(begun.mail.revision, begun.mail.change_note)
    assert row is not None, "asked for with its paper made; papers are never deleted"
    subject, template, paper = _said(mail)
    context = {"paper": paper, "address": _address(mail, begun.secret)}
    return mail_with_paper(mail, subject, template, context, row)


def _said(mail: QuoteMail) -> tuple[str, str, Any]:
    if mail.change_note is not None:
        note = frozen_change_paper(mail.change_note)
        return note.title, "client/mail_change.txt", note
    paper = frozen_paper(mail.revision)
    subject = f"Quotation {paper.number}, revision {paper.revision}: {paper.job_title}"
    return subject, "client/mail.txt", paper


def _address(mail: QuoteMail, secret: str) -> str:
    if mail.change_note is None:
        return client_address(mail.origin, secret)
    return f"{mail.origin}{reverse('client_note', args=[secret, mail.change_note.number])}"


def client_address(origin: str, secret: str) -> str:
    return f"{origin}{reverse('client_quote', args=[secret])}"


def link_for_hand(revision: QuoteRevision, *, origin: str, now: datetime, today: date, by_name: str) -> str:
    """A link shown once, to pass on without mail. The one before it stops working."""
    _, secret = make_link(revision.pk, now=now, today=today, by_name=by_name, by_hand=True)
    return client_address((settings.CLIENT_ORIGIN or origin).rstrip("/"), secret)
