"""A mail leaves once, or somebody is told that it is not known whether it did. Each kind of mail says what it is."""

import smtplib
import socket
from datetime import datetime
from typing import Any, ClassVar

from django.core.mail import EmailMessage

from catalog.core.ground.refusal import Refused
from quoting.platform import clock, failpoints
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused
from quoting.platform.mail_way import mail_way
from quoting.platform.papers.errors import PaperNotKept

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

IN_DOUBT = (
    "The mail was being handed to the mail server when the worker stopped, so nobody here knows whether it left. It is "
    "not sent a second time by itself: ask whether it came, and send it anew if it did not."
)


class MailOnce:
    """That sending has begun is committed in `begin`; `take_back` undoes it where the server surely has nothing."""

    time_limit_s: ClassVar[int] = 120

    def begin(self, claim: Claim, now: datetime) -> Any:
        """Commit that sending has begun. Raises Refused, also when it had begun before."""
        raise NotImplementedError

    def message(self, begun: Any) -> EmailMessage | None:
        """The mail itself; None when there is nothing left to say. Raises PaperNotKept."""
        raise NotImplementedError

    def take_back(self, begun: Any, now: datetime) -> None:
        raise NotImplementedError

    def work(self, claim: Claim) -> str:
        """The way by which the mail went; empty when there was nothing left to say."""
        now, way = clock.now(), mail_way()
        claim.say("Handing the mail to the mail server", 30)
        try:
            begun = self.begin(claim, now)
        except Refused as refusal:
            raise ErrandRefused(str(refusal)) from refusal
        failpoints.hit("mail_begun")
        message = self._made(begun, now)
        try:
            if message is not None:
                message.send()
        except NOT_TAKEN:
            self.take_back(begun, now)
            raise
        except Exception as error:
            raise ErrandRefused(
                f"The talk with the mail server broke off ({type(error).__name__}), and nobody here knows whether the "
                "mail left. Ask whether it came, and send it anew if it did not."
            ) from error
        failpoints.hit("mail_sent")
        return way if message is not None else ""

    def _made(self, begun: Any, now: datetime) -> EmailMessage | None:
        try:
            return self.message(begun)
        except PaperNotKept as error:
            self.take_back(begun, now)
            raise ErrandRefused(str(error)) from error
        except Exception:  # nothing was handed over yet, whatever went wrong
            self.take_back(begun, now)
            raise
