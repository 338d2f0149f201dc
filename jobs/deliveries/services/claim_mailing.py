"""Sending the letter of a claim to the supplier: asked for once, begun once, and never sent twice."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, Any

from django.core.mail import EmailMessage
from django.db import transaction

from catalog.core.ground.declared import Text, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.services.book import firm_of
from jobs.deliveries.models import ClaimMail, ReceiptLine
from jobs.deliveries.services.claim_letters import Asks, queue_letter, refuse_unclaimed, says_what_came
from jobs.deliveries.services.claims import claimed_by_mail, receipts_with_parts
from jobs.deliveries.services.order_events import held_order
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.mail import addresses_of, message_text
from quoting.platform.mail_once import IN_DOUBT, mail_with_paper, with_errands
from quoting.platform.models.mail_ways import MailWay
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import RENDER_CLAIM_LETTER
from quoting.platform.people.signatures import Signature

MAIL_CLAIM = "mail_claim"


@dataclass(frozen=True)
class NewClaimMail:
    """The letter of a claim, by mail."""

    request_key: RequestKey
    asks: Asks
    to_address: Annotated[str, Text(longest=254)] = ""
    message: Annotated[str, Text(longest=5000)] = ""


@transaction.atomic
def queue_claim_mail(row: ReceiptLine, document: dict[str, Any], signature: Signature, *, now: datetime) -> ClaimMail:
    """A NewClaimMail. Its letter goes with it, so it leaves once that is made. Raises Refused.

    The same request_key sends once.
    """
    asked = read(NewClaimMail, Reader(document))
    held_order(row.delivery.order_id)
    known = ClaimMail.objects.filter(request_key=asked.request_key).first()
    if known is not None:
        refuse_another(known.receipt_id != row.pk, "another claim")
        return known
    row = receipts_with_parts().get(pk=row.pk)
    letter = queue_letter(row, asked.asks, signature, now)
    mail = ClaimMail.objects.create(
        receipt=row,
        request_key=asked.request_key,
        letter_key=letter.key,
        to_address=", ".join(addresses_of(asked.to_address)),
        message=message_text(asked.message),
        asked_at=now,
        asked_by_name=signature.by,
    )
    send_when_ready(row, now)
    return mail


@transaction.atomic
def send_when_ready(row: ReceiptLine, now: datetime) -> None:
    """Called when a mail is asked for and when a letter is made, whichever comes last."""
    # Held, so that of a letter being kept and a mail being asked for at once the second sees the first.
    held_order(row.delivery.order_id)
    for mail in ClaimMail.objects.filter(receipt=row, sent_at=None):
        if letter_of(mail) is not None:
            queue_errand(MAIL_CLAIM, _key_of(mail), {"mail": mail.pk}, now)


def letter_of(mail: ClaimMail) -> Paper | None:
    return Paper.objects.filter(key=f"{RENDER_CLAIM_LETTER} {mail.letter_key}").first()


def mails_of(row: ReceiptLine) -> list[tuple[ClaimMail, Errand | None]]:
    return with_errands(row.mails.all(), MAIL_CLAIM, _key_of)


def _key_of(mail: ClaimMail) -> str:
    return f"receipt {mail.receipt_id} mail {mail.pk}"


@transaction.atomic
def begin_claim_mail(mail_id: int, now: datetime) -> ClaimMail:
    """Say that sending has begun. Raises Refused, also when it had begun before."""
    mail = ClaimMail.objects.select_for_update().get(pk=mail_id)
    if mail.began_at is not None:
        raise Refused(IN_DOUBT)
    row = receipts_with_parts().get(pk=mail.receipt_id)
    refuse_unclaimed(row)
    letter = Errand.objects.get(kind=RENDER_CLAIM_LETTER, key=mail.letter_key)
    if not says_what_came(letter.payload["paper"], row):
        raise Refused("What came was corrected after this letter was written, so it is not sent. Send the new letter.")
    mail.began_at = now
    mail.save(update_fields=["began_at"])
    return mail


@transaction.atomic
def claim_mail_sent(mail_id: int, way: str, now: datetime) -> None:
    """What left by the mail server is claimed that day; what stays on this machine claims nothing."""
    ClaimMail.objects.filter(pk=mail_id).update(sent_at=now, went_by=way)
    if way == MailWay.SERVER:
        mail = ClaimMail.objects.select_related("receipt__delivery").get(pk=mail_id)
        claimed_by_mail(mail.receipt, Signature(mail.asked_by_name, day_at_the_firm(now)))


def message_of(mail: ClaimMail) -> EmailMessage:
    """The mail itself, the letter with it. Raises PaperNotKept."""
    row, firm, letter = receipts_with_parts().get(pk=mail.receipt_id), firm_of(), letter_of(mail)
    assert letter is not None, "queued once its letter was made; papers are never deleted"
    order = row.delivery.order
    context = {"row": row, "order": order, "firm": firm}
    subject = f"Claim of {firm.name}: order {order.number}, line {row.line.place}"
    return mail_with_paper(mail, subject, "deliveries/claim_mail.txt", context, letter)
