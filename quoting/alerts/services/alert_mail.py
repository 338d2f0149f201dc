"""The mail of alerts: what came up and still holds as it is sent, each item once."""

from datetime import datetime

from django.conf import settings
from django.core.mail import EmailMessage
from django.template.loader import render_to_string

from jobs.core.ordering.alerts import DECIDE, AlertKey, still_holds
from jobs.core.ordering.order_by import is_late, late_count
from jobs.dates.services.item_schedule import desk_at
from jobs.dates.services.ordered_items import why_in_part
from jobs.jobs.services.signed import signed_jobs
from quoting.alerts.models import AlertMail
from quoting.alerts.services.alert_scope import to_be_ordered, watch
from quoting.alerts.services.deviation_alerts import deviation_line, still_otherwise
from quoting.alerts.services.lines import MailLine, decide_line, in_order, order_line
from quoting.alerts.services.mail_preferences import may_wish, wish_of
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm


def alert_message(mail: AlertMail, now: datetime) -> EmailMessage | None:
    """None when nothing of it holds any more, or nobody wants it."""
    wish = wish_of(mail.person)
    if not (may_wish(mail.person) and wish.alerts):
        return None
    to_order, to_decide = _lines(mail, now)
    deviating = [
        deviation_line(deviation) for deviation in still_otherwise(mail.deviations.all(), day_at_the_firm(now))
    ]
    questions = list(mail.questions.filter(answered_at=None).select_related("revision__quote__job__client"))
    if not (to_order or to_decide or deviating or questions):
        return None
    late = sum(is_late(line.in_hand) for line in to_order)
    due = sum(line.in_hand == 0 for line in to_order)
    ahead = len(to_order) - late - due
    counts = [(due, "to order today"), (ahead, "coming up"), (len(to_decide), "to decide")]
    counts += [(len(deviating), "otherwise than ordered")]
    counts += [(len(questions), f"question{'' if len(questions) == 1 else 's'} of clients")]
    texts = [late_count(late, "item")] if late else []
    texts += [f"{count} {what}" for count, what in counts if count]
    lines = {"order": to_order, "decide": to_decide, "otherwise": deviating, "questions": questions}
    return EmailMessage(
        subject="To do: " + ", ".join(texts),
        body=render_to_string("alerts/alerts.txt", {"person": mail.person, **lines}),
        from_email=settings.DEFAULT_FROM_EMAIL,
        to=[wish.address],
    )


def _lines(mail: AlertMail, now: datetime) -> tuple[list[MailLine], list[MailLine]]:
    desk = desk_at(moment_at_the_firm(now))
    alerts = list(mail.alerts.all())
    watching = watch(to_be_ordered().filter(order_by__isnull=False, job__in={entry.job_id for entry in alerts}))
    of_item = {(item.job, item.material): key for key, item in watching.items.items()}
    by_item = {(item.job, item.material): item for item in watching.items.values()}
    keys = {job_id: item.job for (job_id, _), item in watching.items.items()}
    order, decide = {}, {}
    parts, signed = why_in_part(watching.needs.values()), set(signed_jobs())
    for alert in alerts:
        key = AlertKey(keys.get(alert.job_id, ""), alert.material, alert.day, alert.threshold)
        if not still_holds(key, by_item):
            continue
        of = of_item[key.job, key.material]
        need = watching.needs[of]
        if alert.threshold == DECIDE:
            decide[need.pk] = decide_line(need, desk, signed=alert.job_id in signed)
        else:
            order[need.pk] = order_line(need, desk, parts.get(of, ""), signed=alert.job_id in signed)
    return in_order(list(order.values())), in_order(list(decide.values()))
