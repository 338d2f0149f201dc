"""The errand that sends a quote, or a change note to one."""

from datetime import datetime

from django.core.mail import EmailMessage

from jobs.jobs.services.changes import fact_changed
from quoting.client.models import QuoteMail
from quoting.client.services.mail_messages import message_of
from quoting.client.services.mails import MAIL_QUOTE, Begun, begin_mail, take_back_beginning
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, errand_kind
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.mail_once import MailOnce


@errand_kind(MAIL_QUOTE)
class MailQuote(MailOnce):
    def begin(self, claim: Claim, now: datetime) -> Begun:
        return begin_mail(claim.payload["mail"], now=now, today=day_at_the_firm(now))

    def message(self, begun: Begun) -> EmailMessage:
        return message_of(begun)

    def take_back(self, begun: Begun, now: datetime) -> None:
        take_back_beginning(begun.mail, now)

    def store(self, claim: Claim, result: str) -> None:
        mails = QuoteMail.objects.filter(pk=claim.payload["mail"])
        mails.update(sent_at=clock.now(), went_by=result)
        fact_changed(*mails.values_list("revision__quote__job", flat=True))
