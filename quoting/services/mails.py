"""Sending a revision to its client: asked for once, begun once, and never sent twice."""

from dataclasses import dataclass
from datetime import date, datetime

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.mail import EmailMessage
from django.core.validators import validate_email
from django.db import transaction
from django.template.loader import render_to_string
from django.urls import reverse

from quoting.models import ClientLink, Errand, QuoteMail, QuoteRevision
from quoting.services.client_links import make_link, withdraw_links
from quoting.services.errands import queue_errand
from quoting.services.papers import download_name, paper_bytes, paper_of_revision
from quoting.services.revisions import StepRefused, is_acceptable
from quoting.services.snapshots import frozen_paper

MAIL_QUOTE = "mail_quote"
MOST_ADDRESSES = 5
LONGEST_MESSAGE = 5000


class MailRefused(Exception):
    """Nothing is sent; the sentence names what is wrong."""


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
) -> QuoteMail:
    """origin: where the client's page is, such as https://quotes.example; a setting stands before it.

    The same request_key sends once. Raises MailRefused.
    """
    if not 0 < len(request_key) <= 100 or not request_key.isprintable():
        raise MailRefused("A request is named by 1 to 100 characters; ask from a fresh page.")
    known = QuoteMail.objects.filter(request_key=request_key).first()
    if known is not None:
        if known.revision_id != revision.pk:
            raise MailRefused("This request has sent another quote; open the page of this quote again.")
        return known
    if not is_acceptable(revision, today):
        raise MailRefused(f"{revision} can no longer be accepted, so it is not sent. Issue it anew first.")
    if paper_of_revision(revision) is None:
        raise MailRefused(f"The paper of {revision} is not made yet, and it goes with the mail. Send it once it is.")
    mail = QuoteMail.objects.create(
        revision=revision,
        request_key=request_key,
        to_address=", ".join(_addresses(to_address)),
        message=_message(message),
        origin=(settings.CLIENT_ORIGIN or origin).rstrip("/"),
        asked_at=now,
        asked_by_name=by_name,
    )
    queue_errand(MAIL_QUOTE, _key_of(mail), {"mail": mail.pk}, now)
    return mail


def mail_errand(mail: QuoteMail) -> Errand | None:
    return Errand.objects.filter(kind=MAIL_QUOTE, key=_key_of(mail)).first()


def list_mails(revision: QuoteRevision) -> list[tuple[QuoteMail, Errand | None]]:
    return [(mail, mail_errand(mail)) for mail in QuoteMail.objects.filter(revision=revision)]


@transaction.atomic
def begin_mail(mail_id: int, *, now: datetime, today: date) -> Begun:
    """Make the link and say that sending has begun, in one. Raises MailRefused, also when it had begun before."""
    mail = QuoteMail.objects.select_for_update(of=("self",)).select_related("revision__quote__job").get(pk=mail_id)
    if mail.began_at is not None:
        raise MailRefused(
            "The mail was being handed to the mail server when the worker stopped, so nobody here knows whether it "
            "left. It is not sent a second time by itself: ask whether it came, and send it anew if it did not."
        )
    try:
        mail.link, secret = make_link(mail.revision_id, now=now, today=today, by_name=mail.asked_by_name)
    except StepRefused as refusal:
        raise MailRefused(str(refusal)) from refusal
    mail.began_at = now
    mail.save(update_fields=["link", "began_at"])
    return Begun(mail, secret)


@transaction.atomic
def take_back_beginning(mail: QuoteMail, now: datetime) -> None:
    """For when the mail server surely has not got it: it may be begun again."""
    ClientLink.objects.filter(pk=mail.link_id, withdrawn_at=None).update(withdrawn_at=now)
    QuoteMail.objects.filter(pk=mail.pk, sent_at=None).update(link=None, began_at=None)


def message_of(begun: Begun) -> EmailMessage:
    """The mail itself, the paper with it. Raises PaperNotKept."""
    mail, revision = begun.mail, begun.mail.revision
    frozen, row = frozen_paper(revision), paper_of_revision(revision)
    assert row is not None, "asked for with its paper made; papers are never deleted"
    context = {"paper": frozen, "message": mail.message, "address": client_address(mail.origin, begun.secret)}
    email = EmailMessage(
        subject=" ".join(f"Quotation {frozen.number}, revision {frozen.revision}: {frozen.job_title}".split())[:200],
        body=render_to_string("client/mail.txt", context),
        from_email=settings.DEFAULT_FROM_EMAIL,
        to=mail.to_address.split(", "),
    )
    email.attach(download_name(row), paper_bytes(row), "application/pdf")
    return email


def client_address(origin: str, secret: str) -> str:
    return f"{origin}{reverse('client_quote', args=[secret])}"


def link_for_hand(revision: QuoteRevision, *, origin: str, now: datetime, today: date, by_name: str) -> str:
    """A link shown once, to be handed over otherwise than by mail. The one before it stops working."""
    _, secret = make_link(revision.pk, now=now, today=today, by_name=by_name)
    return client_address((settings.CLIENT_ORIGIN or origin).rstrip("/"), secret)


def withdraw_link(revision: QuoteRevision, now: datetime) -> bool:
    return bool(withdraw_links(revision, now))


def _key_of(mail: QuoteMail) -> str:
    return f"{mail.revision.quote.number} revision {mail.revision.number} mail {mail.pk}"


def _addresses(text: str) -> list[str]:
    found = list(dict.fromkeys(part for part in text.replace(";", ",").replace(",", " ").split() if part))
    if not found:
        raise MailRefused("The address to send to is missing; write one such as name@firm.example.")
    if len(found) > MOST_ADDRESSES or len(", ".join(found)) > 254:
        raise MailRefused(f"There are {len(found)} addresses; send to at most {MOST_ADDRESSES} short ones at once.")
    for address in found:
        try:
            validate_email(address)
        except ValidationError as error:
            raise MailRefused(f"{address[:100]!r} is no mail address; write one such as name@firm.example.") from error
    return found


def _message(text: str) -> str:
    message = text.replace("\r\n", "\n").strip()
    if len(message) > LONGEST_MESSAGE or "\0" in message:
        raise MailRefused(f"The message is {len(message):,} characters long; write at most {LONGEST_MESSAGE:,}.")
    return message
