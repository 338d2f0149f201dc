"""The errand that sends a quote. Its mail leaves once, or somebody is told that it is not known whether it did."""

import smtplib
import socket
from typing import ClassVar

from quoting import clock, failpoints
from quoting.models import QuoteMail
from quoting.papers.errors import PaperNotKept
from quoting.services.errand_kinds import Claim, ErrandRefused, errand_kind
from quoting.services.firm_day import day_at_the_firm
from quoting.services.mails import MAIL_QUOTE, MailRefused, begin_mail, message_of, take_back_beginning

# The mail server was not reached, or it said no: it surely has not taken the mail. Of any other trouble, such as a
# connection lost half-way, nobody can say.
NOT_TAKEN = (
    ConnectionRefusedError,
    socket.gaierror,
    smtplib.SMTPConnectError,
    smtplib.SMTPHeloError,
    smtplib.SMTPAuthenticationError,
    smtplib.SMTPNotSupportedError,
    smtplib.SMTPSenderRefused,
    smtplib.SMTPRecipientsRefused,
    smtplib.SMTPDataError,
    PermissionError,
    FileNotFoundError,
)


@errand_kind(MAIL_QUOTE)
class MailQuote:
    time_limit_s: ClassVar[int] = 120

    def work(self, claim: Claim) -> None:
        now = clock.now()
        claim.say("Handing the mail to the mail server", 30)
        try:
            begun = begin_mail(claim.payload["mail"], now=now, today=day_at_the_firm(now))
        except MailRefused as refusal:
            raise ErrandRefused(str(refusal)) from refusal
        failpoints.hit("mail_begun")
        try:
            message_of(begun).send()
        except PaperNotKept as error:
            take_back_beginning(begun.mail, now)
            raise ErrandRefused(str(error)) from error
        except NOT_TAKEN:
            take_back_beginning(begun.mail, now)
            raise
        except Exception as error:
            raise ErrandRefused(
                f"The talk with the mail server broke off ({type(error).__name__}), and nobody here knows whether the "
                "mail left. Ask whether it came, and send it anew if it did not."
            ) from error
        failpoints.hit("mail_sent")

    def store(self, claim: Claim, result: None) -> None:
        QuoteMail.objects.filter(pk=claim.payload["mail"]).update(sent_at=clock.now())
