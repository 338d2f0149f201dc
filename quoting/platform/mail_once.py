"""A mail leaves once, or somebody is told that it is not known whether it did. Each kind of mail says what it is."""

import smtplib
import socket
from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any, ClassVar, TypeVar

from django.conf import settings
from django.core.mail import EmailMessage
from django.db.models import Model
from django.template.loader import render_to_string

from catalog.core.ground.refusal import Refused
from quoting.platform import clock, failpoints
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused
from quoting.platform.mail_way import mail_way
from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import download_name, paper_bytes

Row = TypeVar("Row", bound=Model)

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
    "The service stopped while sending this mail, so it may not have left. Ask whether it came; if not, send it again."
)


def take_back_beginning(mail: Model) -> None:
    """For when the mail server surely has not got it: it may be begun again."""
    type(mail)._default_manager.filter(pk=mail.pk, sent_at=None).update(began_at=None)


def mail_with_paper(mail: Any, subject: str, template: str, context: dict[str, Any], paper: Paper) -> EmailMessage:
    """mail: its row. Raises PaperNotKept."""
    email = EmailMessage(
        subject=" ".join(subject.split())[:200],
        body=render_to_string(template, context | {"message": mail.message}),
        from_email=settings.DEFAULT_FROM_EMAIL,
        to=mail.to_address.split(", "),
    )
    email.attach(download_name(paper), paper_bytes(paper), "application/pdf")
    return email


def with_errands(mails: Iterable[Row], kind: str, key_of: Callable[[Row], str]) -> list[tuple[Row, Errand | None]]:
    """Each mail with the errand that sends it, None while there is none."""
    keys = {mail: key_of(mail) for mail in mails}
    errands = {errand.key: errand for errand in Errand.objects.filter(kind=kind, key__in=keys.values())}
    return [(mail, errands.get(key)) for mail, key in keys.items()]


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
        take_back_beginning(begun)

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
                f"The mail server broke off ({type(error).__name__}), so the mail may not have left. Ask whether it "
                "came; if not, send it again."
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
