"""The errands that make the letter of a claim and send it to the supplier."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.core.mail import EmailMessage

from jobs.deliveries.models import ClaimMail, ReceiptLine
from jobs.deliveries.papers.claim_letter import ClaimLetterPaper
from jobs.deliveries.services.claim_mailing import (
    MAIL_CLAIM,
    begin_claim_mail,
    claim_mail_sent,
    message_of,
    send_when_ready,
)
from jobs.walls.services.photos import images_of
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, errand_kind
from quoting.platform.mail_once import MailOnce
from quoting.platform.papers.paper_errand import MadePaper, PaperErrand, add_paper
from quoting.platform.papers.papers import RENDER_CLAIM_LETTER


@errand_kind(RENDER_CLAIM_LETTER)
class RenderClaimLetter(PaperErrand):
    """The letter of a claim as it was when it was asked for; what waits for it is sent once it is kept."""

    doing = "Setting the letter in type"
    of = ClaimLetterPaper

    def images(self, paper: Any) -> Mapping[str, bytes]:
        return images_of([paper])

    def store(self, claim: Claim, result: MadePaper) -> None:
        receipt = ReceiptLine.objects.select_related("delivery").get(pk=claim.payload["receipt"])
        add_paper(claim, result, receipt=receipt)
        send_when_ready(receipt, clock.now())


@errand_kind(MAIL_CLAIM)
class MailClaim(MailOnce):
    def begin(self, claim: Claim, now: datetime) -> ClaimMail:
        return begin_claim_mail(claim.payload["mail"], now)

    def message(self, begun: ClaimMail) -> EmailMessage:
        return message_of(begun)

    def store(self, claim: Claim, result: str) -> None:
        claim_mail_sent(claim.payload["mail"], result, clock.now())
