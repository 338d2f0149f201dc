"""What of alerts and mails needs a hand: items nobody can date, and mails of which nobody knows whether they left."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from jobs.jobs.models import Job
from quoting.alerts.models import AlertMail, AlertTrouble, WeeklyMail
from quoting.alerts.services.due_alerts import MAIL_ALERTS
from quoting.alerts.services.weekly import MAIL_WEEKLY
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.people.models import Person

# What a mail said is out of date by then, and stands on Today anyhow.
FAILED_SHOWN = timedelta(days=7)
MOST_SHOWN = 20
_MAILS = {MAIL_ALERTS: (AlertMail, "alerts"), MAIL_WEEKLY: (WeeklyMail, "the list of the week")}


@dataclass(frozen=True)
class Attention:
    """job: whose item it is; None for a mail."""

    job: Job | None
    sentence: str


def attention(now: datetime) -> list[Attention]:
    rows = AlertTrouble.objects.select_related("job")[:MOST_SHOWN]
    found = [Attention(row.job, f"No alert can come up for {row.material}. {row.sentence}") for row in rows]
    failed = Errand.objects.filter(
        kind__in=_MAILS, state=ErrandState.FAILED, finished_at__gte=now - FAILED_SHOWN
    ).order_by("-finished_at")
    return found + [Attention(None, _mail_words(errand)) for errand in failed[:MOST_SHOWN]]


def _mail_words(errand: Errand) -> str:
    kind, what = _MAILS[errand.kind]
    person = Person.objects.filter(pk__in=kind._default_manager.filter(pk=errand.payload["mail"]).values("person"))
    name = person.values_list("full_name", flat=True).first() or "somebody who is gone"
    return f"The mail with {what} to {name} failed. {errand.error}"
