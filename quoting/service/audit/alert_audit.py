"""Invariants of alerts, their mails and calendar feeds; loaded with the other audit checks."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from catalog.core.ground.day_words import day_words
from catalog.services.book import NoFirmYet
from jobs.needs.models import StoredNeed
from quoting.alerts.models import AlertMail, AlertTrouble, FeedAddress, FeedEvent, WeeklyMail
from quoting.alerts.services.due_alerts import MAIL_ALERTS, found_due
from quoting.alerts.services.weekly import MAIL_WEEKLY
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.heartbeats import heartbeat_ages, is_fresh
from quoting.platform.models.bounds import SHA256
from quoting.service.audit.services.audit import audit_check

# While the tick is up an alert is kept within two minutes of the day it came up on, or of the change it came up by.
GRACE = timedelta(minutes=10)


@audit_check("alerts")
def what_is_due_has_come_up(now: datetime) -> Iterable[str]:
    for row in AlertTrouble.objects.select_related("job"):
        yield f"No alert can come up for {row.material} of {row.job.key}: {row.sentence}"
    # While the tick is down nothing comes up, and the health page says so.
    if not is_fresh("alerts", heartbeat_ages(now)["alerts"]):
        return
    try:
        finding = found_due(now - GRACE)
    except NoFirmYet:
        return
    # Worked up since then, so that the tick may not have seen it yet.
    fresh = set(
        StoredNeed.objects.filter(job__worked__worked_up_at__gte=now - GRACE).values_list("job__key", "material")
    )
    for alert in finding.due:
        key = alert.key
        if (key.job, key.material) not in fresh:
            what = f"Alert {key.threshold!r} of {key.material} in {key.job}"
            yield f"{what} held on {day_words(alert.due_on)} and has not come up."


@audit_check("alert mails")
def mails_have_their_errands(now: datetime) -> Iterable[str]:
    for kind, model in ((MAIL_ALERTS, AlertMail), (MAIL_WEEKLY, WeeklyMail)):
        wanted = set(Errand.objects.filter(kind=kind).values_list("key", flat=True))
        for mail in model._default_manager.filter(sent_at=None):
            if f"mail {mail.pk}" not in wanted:
                yield f"{mail}: it was asked for, and no errand sends it."


@audit_check("calendar feeds")
def feeds_are_in_order(now: datetime) -> Iterable[str]:
    for row in FeedAddress.objects.exclude(digest__regex=SHA256):
        yield f"Feed address {row.pk} is not kept as a SHA-256."
    for event in FeedEvent.objects.filter(job__closed_on__lt=(now - timedelta(days=2)).date(), cancelled=False):
        yield f"{event}: its job was closed, and calendars have not been told."
