"""The errands that send alerts and the list of the week."""

from datetime import datetime

from django.core.mail import EmailMessage

from quoting.alerts.models import AlertMail, WeeklyMail
from quoting.alerts.services.alert_mail import alert_message
from quoting.alerts.services.due_alerts import MAIL_ALERTS
from quoting.alerts.services.mail_send import begin
from quoting.alerts.services.weekly import MAIL_WEEKLY, weekly_message
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, errand_kind
from quoting.platform.mail_once import MailOnce


@errand_kind(MAIL_ALERTS)
class MailAlerts(MailOnce):
    def begin(self, claim: Claim, now: datetime) -> AlertMail | WeeklyMail:
        return begin(AlertMail, claim.payload["mail"], now)

    def message(self, begun: AlertMail) -> EmailMessage | None:
        return alert_message(begun, clock.now())

    def store(self, claim: Claim, result: str) -> None:
        if result:
            AlertMail.objects.filter(pk=claim.payload["mail"]).update(sent_at=clock.now(), went_by=result)


@errand_kind(MAIL_WEEKLY)
class MailWeekly(MailOnce):
    def begin(self, claim: Claim, now: datetime) -> AlertMail | WeeklyMail:
        return begin(WeeklyMail, claim.payload["mail"], now)

    def message(self, begun: WeeklyMail) -> EmailMessage | None:
        return weekly_message(begun, clock.now())

    def store(self, claim: Claim, result: str) -> None:
        if result:
            WeeklyMail.objects.filter(pk=claim.payload["mail"]).update(sent_at=clock.now(), went_by=result)
