"""What failed and needs a hand: items nobody can date, mails, papers and plans that failed, a worker that is silent."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from jobs.jobs.models import Job
from quoting.alerts.models import AlertMail, AlertTrouble, WeeklyMail
from quoting.alerts.services.due_alerts import MAIL_ALERTS
from quoting.alerts.services.weekly import MAIL_WEEKLY
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services.heartbeats import heartbeat_ages, is_fresh
from quoting.platform.people.models import Person

# What a mail said is out of date by then, and stands on Today anyhow.
FAILED_SHOWN = timedelta(days=7)
MAX_SHOWN = 20
_MAILS = {MAIL_ALERTS: (AlertMail, "alerts"), MAIL_WEEKLY: (WeeklyMail, "the weekly list")}
_PAPERS = {
    "render_quote": "The PDF of a quotation",
    "render_certificate": "The PDF of an acceptance",
    "render_change_note": "The PDF of a change note",
    "render_order_sheet": "The PDF of an order",
    "render_claim_letter": "The PDF of a claim",
    "render_order_dates": "The PDF of order dates",
    "render_site_sheet": "The PDF of a site sheet",
    "render_full_size": "A full-size template",
    "mail_quote": "The mail with a quotation",
    "mail_order": "The mail with an order",
    "mail_claim": "The mail with a claim",
}


@dataclass(frozen=True)
class Attention:
    """job: whose item it is; None for a mail. what: failed or is missing, in a few words. sentence: why."""

    job: Job | None
    what: str
    sentence: str


def attention(now: datetime) -> list[Attention]:
    rows = AlertTrouble.objects.select_related("job")[:MAX_SHOWN]
    todos = [Attention(row.job, f"No alert can come up for {row.material}", row.sentence) for row in rows]
    failed = Errand.objects.filter(
        kind__in=[*_MAILS, *_PAPERS], state=ErrandState.FAILED, finished_at__gte=now - FAILED_SHOWN
    ).order_by("-finished_at")
    errands = list(failed[:MAX_SHOWN])
    jobs = Job.objects.in_bulk({pk for errand in errands if isinstance(pk := errand.payload.get("job"), int)})
    todos += [
        Attention(jobs.get(errand.payload.get("job", 0)), f"{_words(errand)} failed", errand.error)
        for errand in errands
    ]
    return [*_silent(now), *todos]


def _silent(now: datetime) -> Iterator[Attention]:
    """Where a worker was ever seen: a firm that runs none has no background work to stop."""
    age = heartbeat_ages(now)["worker"]
    if age is not None and not is_fresh("worker", age):
        why = "Mails are not sent and papers not made. Restart the service."
        yield Attention(None, "Background work has stopped", why)


def _words(errand: Errand) -> str:
    if errand.kind in _PAPERS:
        return _PAPERS[errand.kind]
    kind, what = _MAILS[errand.kind]
    person = Person.objects.filter(pk__in=kind._default_manager.filter(pk=errand.payload["mail"]).values("person"))
    name = person.values_list("full_name", flat=True).first() or "somebody who is gone"
    return f"The mail with {what} to {name}"
