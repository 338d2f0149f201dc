"""The errands that make the papers of requests and of statements, and send requests."""

from datetime import datetime
from typing import Any

from django.core.mail import EmailMessage

from quoting.payment_requests.models import PaymentRequest, RequestMail
from quoting.payment_requests.papers.statement_sheet import StatementPaper
from quoting.payment_requests.services.mailing import MAIL_REQUEST, begin_request_mail, message_of
from quoting.payment_requests.services.request_papers import frozen_request
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, errand_kind
from quoting.platform.mail_once import MailOnce
from quoting.platform.papers.paper_errand import MadePaper, PaperErrand, add_paper
from quoting.platform.papers.papers import RENDER_REQUEST, RENDER_STATEMENT


@errand_kind(RENDER_REQUEST)
class RenderRequest(PaperErrand):
    """The paper of a request, from what was frozen with it."""

    doing = "Setting the request in type"

    def paper(self, claim: Claim) -> Any:
        return frozen_request(PaymentRequest.objects.get(pk=claim.payload["request"]))

    def store(self, claim: Claim, result: MadePaper) -> None:
        row = PaymentRequest.objects.defer("snapshot").get(pk=claim.payload["request"])
        add_paper(claim, result, job_id=row.job_id, payment_request=row)


@errand_kind(RENDER_STATEMENT)
class RenderStatement(PaperErrand):
    """The statement of a client as it was when asked for."""

    doing = "Setting the statement in type"
    of = StatementPaper


@errand_kind(MAIL_REQUEST)
class MailRequest(MailOnce):
    def begin(self, claim: Claim, now: datetime) -> RequestMail:
        return begin_request_mail(claim.payload["mail"], now)

    def message(self, begun: RequestMail) -> EmailMessage:
        return message_of(begun)

    def store(self, claim: Claim, result: str) -> None:
        RequestMail.objects.filter(pk=claim.payload["mail"]).update(sent_at=clock.now(), went_by=result)
