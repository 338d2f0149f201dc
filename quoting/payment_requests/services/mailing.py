"""Sending the paper of a request to the client: asked for once, begun once, and never sent twice."""

from datetime import datetime
from typing import Any

from django.core.mail import EmailMessage
from django.db import transaction

from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import refuse_another, request_key_of
from quoting.payment_requests.models import PaymentRequest, RequestMail
from quoting.payment_requests.services.request_papers import frozen_request
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.mail import addresses_of, message_text
from quoting.platform.mail_once import IN_DOUBT, mail_with_paper, with_errands
from quoting.platform.papers.models import Paper
from quoting.platform.people.signatures import Signature

MAIL_REQUEST = "mail_request"


@transaction.atomic
def send_request(
    row: PaymentRequest, document: dict[str, Any], signature: Signature, *, now: datetime
) -> tuple[RequestMail, bool]:
    """request_key, to_address, message. Its paper goes with it. The same request_key sends once. Raises Refused."""
    reader = Reader(document)
    key = request_key_of(reader)
    to, message = reader.text("to_address", longest=400), reader.text("message", "", longest=5000)
    reader.finish()
    known = RequestMail.objects.filter(request_key=key).first()
    if known is not None:
        refuse_another(known.request_id != row.pk, "another mail")
        return known, False
    if paper_of_request(row) is None:
        raise Refused(f"The paper of {row} is not made yet, and it goes with the mail. Send it once it is.")
    mail = RequestMail.objects.create(
        request=row,
        request_key=key,
        to_address=", ".join(addresses_of(to)),
        message=message_text(message),
        asked_at=now,
        asked_by_name=signature.by,
    )
    queue_errand(MAIL_REQUEST, _key_of(mail), {"mail": mail.pk}, now)
    return mail, True


def paper_of_request(row: PaymentRequest) -> Paper | None:
    return Paper.objects.select_related("job", "payment_request").filter(payment_request=row).first()


def mails_of(row: PaymentRequest) -> list[tuple[RequestMail, Errand | None]]:
    """The latest first, each with what sends it."""
    return with_errands(row.mails.all(), MAIL_REQUEST, _key_of)


def mail_errand(mail: RequestMail) -> Errand | None:
    return Errand.objects.filter(kind=MAIL_REQUEST, key=_key_of(mail)).first()


def _key_of(mail: RequestMail) -> str:
    return f"request {mail.request_id} mail {mail.pk}"


@transaction.atomic
def begin_request_mail(mail_id: int, now: datetime) -> RequestMail:
    """Say that sending has begun. Raises Refused, also when it had begun before."""
    mail = RequestMail.objects.select_for_update(of=("self",)).select_related("request").get(pk=mail_id)
    if mail.began_at is not None:
        raise Refused(IN_DOUBT)
    by = PaymentRequest.objects.filter(credits=mail.request_id).first()
    if by is not None:
        raise Refused(f"{mail.request} was credited by {by} before the mail left, so it is not sent.")
    mail.began_at = now
    mail.save(update_fields=["began_at"])
    return mail


def message_of(mail: RequestMail) -> EmailMessage:
    """The mail itself, the paper with it. Raises PaperNotKept."""
    row, paper = paper_of_request(mail.request), frozen_request(mail.request)
    assert row is not None, "asked for with its paper made; papers are never deleted"
    return mail_with_paper(mail, paper.title, "payment_requests/mail.txt", {"paper": paper}, row)
