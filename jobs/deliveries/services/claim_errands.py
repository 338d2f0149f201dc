"""The errands that make the letter of a claim and send it to the supplier."""

from datetime import datetime
from typing import ClassVar

from django.core.mail import EmailMessage

from jobs.deliveries.models import ClaimMail, ReceiptLine
from jobs.deliveries.papers.claim_letter import ClaimLetterPaper
from jobs.deliveries.services.claim_mailing import (
    MAIL_CLAIM,
    begin_claim_mail,
    claim_mail_sent,
    message_of,
    send_when_ready,
    take_back_beginning,
)
from jobs.walls.services.photos import images_of
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused, errand_kind
from quoting.platform.mail_once import MailOnce
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.paper_documents import read_paper
from quoting.platform.papers.paper_errand import HOPELESS, MadePaper, add_paper, keep
from quoting.platform.papers.papers import RENDER_CLAIM_LETTER
from quoting.platform.papers.typeset import paper_pdf


@errand_kind(RENDER_CLAIM_LETTER)
class RenderClaimLetter:
    """The letter of a claim as it was when it was asked for; what waits for it is sent once it is kept."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Setting the letter in type", 10)
        try:
            paper = read_paper(ClaimLetterPaper, claim.payload["paper"])
            return keep(claim, paper.title, paper_pdf(paper, images_of([paper])))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        receipt = ReceiptLine.objects.select_related("delivery").get(pk=claim.payload["receipt"])
        add_paper(claim, result, kind=PaperKind.CLAIM_LETTER, receipt=receipt)
        send_when_ready(receipt, clock.now())


@errand_kind(MAIL_CLAIM)
class MailClaim(MailOnce):
    def begin(self, claim: Claim, now: datetime) -> ClaimMail:
        return begin_claim_mail(claim.payload["mail"], now)

    def message(self, begun: ClaimMail) -> EmailMessage:
        return message_of(begun)

    def take_back(self, begun: ClaimMail, now: datetime) -> None:
        take_back_beginning(begun)

    def store(self, claim: Claim, result: str) -> None:
        claim_mail_sent(claim.payload["mail"], result, clock.now())
