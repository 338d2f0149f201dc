"""Once a minute: which alerts came up, each kept once, and who is told of them."""

import uuid
from collections.abc import Iterable
from datetime import date, datetime, timedelta

from django.db import transaction
from django.db.models import Q

from catalog.core.ground.workdays import CalendarError, WorkCalendar
from catalog.services.book import NoFirmYet, firm_of
from jobs.core.ordering.alerts import Alert as DueAlert
from jobs.core.ordering.alerts import AlertFindings, AlertKey, AlertPlan, due_alerts, last_day_watched
from quoting.alerts.models import Alert, AlertMail, AlertTrouble, DeviationAlert
from quoting.alerts.services.alert_scope import BadItem, ItemKey, Watching, watch, with_something_to_come
from quoting.alerts.services.alert_settings import alert_times, plan_of
from quoting.alerts.services.deviation_alerts import holding_now, keep_deviations
from quoting.alerts.services.mail_preferences import who_wants_alerts
from quoting.client.models import ClientQuestion
from quoting.platform import failpoints
from quoting.platform.errands.services import heartbeats
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.firm_day import day_at_the_firm

MAIL_ALERTS = "mail_alerts"
# Whoever changes a job rarely changes it once: what comes up by a change waits, so that it is told in one mail.
SETTLE = timedelta(minutes=2)


def look_for_alerts(now: datetime) -> None:
    """Safe to be run by any number at once and at any time: all it knows it reads from rows."""
    try:
        watching, finding = _look(now)
    except NoFirmYet:
        heartbeats.beat("alerts", now)
        return
    ids = {item.job: job_id for (job_id, _), item in watching.items.items()}
    holding = holding_now(now)
    bad = [
        *watching.bad,
        *(BadItem(ids[problem.job], problem.material, problem.sentence) for problem in finding.troubles),
    ]
    with transaction.atomic():
        _keep(finding.due, ids, watching, now)
        keep_deviations(holding, now)
        failpoints.hit("alerts_kept")
        _ask_for_mails(now, day_at_the_firm(now))
    _keep_troubles(bad, now)
    heartbeats.beat("alerts", now)


def found_due(now: datetime) -> AlertFindings:
    """What a look would find that no look has kept. Raises NoFirmYet."""
    return _look(now)[1]


def _look(now: datetime) -> tuple[Watching, AlertFindings]:
    calendar, plan, today = firm_of().calendar, plan_of(alert_times()), day_at_the_firm(now)
    watching = watch(with_something_to_come(_until(today, calendar, plan)))
    return watching, due_alerts(watching.items.values(), today, calendar, plan, _known(watching))


def _until(today: date, calendar: WorkCalendar, plan: AlertPlan) -> date | None:
    try:
        return last_day_watched(today, calendar, plan)
    except CalendarError:  # a firm that never works again: every item says so of itself
        return None


def _known(watching: Watching) -> frozenset[AlertKey]:
    days = [day for item in watching.items.values() for day in (item.order_by, item.decide_by) if day]
    if not days:
        return frozenset()
    rows = Alert.objects.filter(job__closed_on=None, day__gte=min(days), day__lte=max(days))
    return frozenset(AlertKey(*entry) for entry in rows.values_list("job__key", "material", "day", "threshold"))


def _keep(due: Iterable[DueAlert], ids: dict[str, int], watching: Watching, now: datetime) -> None:
    """Of two that find the same alert one keeps it: the database refuses the other's row."""
    rows = [
        Alert(
            job_id=ids[alert.key.job],
            material=alert.key.material,
            name=watching.needs[ids[alert.key.job], alert.key.material].name,
            day=alert.key.day,
            threshold=alert.key.threshold,
            due_on=alert.due_on,
            came_up_at=now,
            told=alert.told,
        )
        for alert in due
    ]
    Alert.objects.bulk_create(rows, batch_size=500, ignore_conflicts=True)


def _ask_for_mails(now: datetime, today: date) -> None:
    """Whoever takes the alerts that nobody has taken asks for their mails, one a person."""
    free, otherwise_ones = Alert.objects.filter(batch=""), DeviationAlert.objects.filter(batch="")
    is_time = free.filter(Q(due_on=today) | Q(came_up_at__lte=now - SETTLE)).exists()
    questions = ClientQuestion.objects.filter(batch="", answered_at=None)
    if not (is_time or questions.exists() or otherwise_ones.filter(came_up_at__lte=now - SETTLE).exists()):
        return
    batch = uuid.uuid4().hex
    free.update(batch=batch)
    otherwise_ones.update(batch=batch)
    questions.update(batch=batch)
    asked = list(ClientQuestion.objects.filter(batch=batch))
    message, deviations = list(Alert.objects.filter(batch=batch, told=True)), DeviationAlert.objects.filter(batch=batch)
    still = list(deviations.filter(ended_at=None))
    for person in who_wants_alerts() if message or still or asked else ():
        mail = AlertMail.objects.create(person=person, batch=batch, asked_at=now)
        mail.alerts.set(message)
        mail.deviations.set(still)
        mail.questions.set(asked)
        queue_errand(MAIL_ALERTS, f"mail {mail.pk}", {"mail": mail.pk}, now)


@transaction.atomic
def _keep_troubles(bad: list[BadItem], now: datetime) -> None:
    problems: dict[ItemKey, str] = {(item.job_id, item.material): item.sentence for item in bad}
    for row in AlertTrouble.objects.all():
        sentence = problems.pop((row.job_id, row.material), None)
        if sentence is None:
            row.delete()
        elif sentence != row.sentence:
            row.sentence, row.seen_at = sentence, now
            row.save(update_fields=["sentence", "seen_at"])
    for (job_id, material), sentence in problems.items():
        AlertTrouble.objects.get_or_create(
            job_id=job_id, material=material, defaults={"sentence": sentence, "since": now, "seen_at": now}
        )
