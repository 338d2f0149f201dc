"""The list of the week: asked for once a week and person, made of the rows as it is sent."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.conf import settings
from django.core.mail import EmailMessage
from django.db import transaction
from django.db.models import Q
from django.template.loader import render_to_string

from catalog.core.ground.workdays import CalendarError, WorkCalendar
from catalog.models import Supplier
from catalog.services.book import NoFirmYet, firm_of
from jobs.buying.services.expediting_facts import to_ask
from jobs.core.ordering.alerts import week_begins, weekly_list_due
from jobs.core.ordering.order_by import days_in_hand, is_late, late_count
from jobs.dates.services.item_schedule import DateContext, OpenJobItems, desk_at, open_items
from jobs.dates.services.late_on_order import late_on_order
from jobs.dates.services.ordered_items import why_in_part
from jobs.jobs.services.signed import signed_jobs
from jobs.needs.models import StoredNeed
from quoting.alerts.models import WeeklyMail
from quoting.alerts.services.alert_scope import BadItem, Watching, to_be_ordered, watch
from quoting.alerts.services.alert_settings import alert_times
from quoting.alerts.services.lines import MailLine, decide_line, expected_lines, in_order, late_line, order_line
from quoting.alerts.services.mail_preferences import may_wish, who_wants_lists, wish_of
from quoting.life.services.listing import lives_at_hand
from quoting.life.services.reading import ReadLife
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.formatting import day_words, with_day_words

MAIL_WEEKLY = "mail_weekly"
# Ours: two working weeks ahead is what one looks at on a Monday.
AHEAD_WORKDAYS = 10
NO_SUPPLIER = "No supplier"


@dataclass(frozen=True)
class Group:
    supplier: str
    lines: list[MailLine]


def ask_for_lists(now: datetime) -> None:
    """Safe to be run by any number at once: the row of a week and person is there once."""
    try:
        calendar = firm_of().calendar
    except NoFirmYet:
        return
    moment, at = moment_at_the_firm(now), alert_times().list_at
    week = weekly_list_due(moment, at, calendar)
    if week is None:
        return
    first = week_begins(week, calendar)
    assert first is not None, "a list is due only in a week with a day worked"
    people = who_wants_lists(datetime.combine(first, at, moment.tzinfo))
    for person in people.exclude(weekly_mails__week=week):
        _ask(person.pk, week, now)


@transaction.atomic
def _ask(person_id: int, week: date, now: datetime) -> None:
    mail, made = WeeklyMail.objects.get_or_create(person_id=person_id, week=week, defaults={"asked_at": now})
    if made:
        queue_errand(MAIL_WEEKLY, f"mail {mail.pk}", {"mail": mail.pk}, now)


def weekly_message(mail: WeeklyMail, now: datetime) -> EmailMessage | None:
    """None when nobody wants it any more."""
    wish = wish_of(mail.person)
    if not (may_wish(mail.person) and wish.weekly_list):
        return None
    moment = moment_at_the_firm(now)
    desk = desk_at(moment)
    until = _last_day(desk.today, desk.calendar)
    # What is decided in time is often ordered only after these weeks.
    soon = Q(order_by__lte=until) | Q(decide_by__lte=until)
    watching = watch(to_be_ordered().filter(soon, order_by__isnull=False))
    groups, asking = _groups(watching, desk, until), to_ask(desk.today, desk.calendar)
    context: dict[str, Any] = {
        "person": mail.person,
        "today": day_words(desk.today),
        "workdays": AHEAD_WORKDAYS,
        "groups": groups,
        "late": list(_late(open_items(moment))),
        "jobs": [f"{read.job.title}: {read.sentences}" for read in lives_at_hand(desk.today) if _is_due(read, until)],
        "expected": list(expected_lines(until)),
        "undated": list(_undated()),
        "chases": [
            f"{with_day_words(chase.action)} ({chase.who}, due since {day_words(chase.since)})"
            for chase in asking.beside_late
        ],
        "bad": [*(_bad_line(item) for item in watching.bad), *asking.bad],
    }
    late = sum(is_late(line.in_hand) for group in groups for line in group.lines) + len(context["late"])
    message = f": {late_count(late, 'item')}" if late else ""
    return EmailMessage(
        subject=f"Order dates of the week of {day_words(mail.week)}{message}",
        body=render_to_string("alerts/weekly.txt", context),
        from_email=settings.DEFAULT_FROM_EMAIL,
        to=[wish.address],
    )


def _late(read: OpenJobItems) -> Iterable[str]:
    for coming in late_on_order(read):
        yield late_line(coming, read.desk, signed=coming.item.job.pk in read.signed).text


def _is_due(read: ReadLife, until: date) -> bool:
    step = read.life.next
    return step is not None and step.by is not None and step.by <= until


def _last_day(today: date, calendar: WorkCalendar) -> date:
    try:
        return calendar.forward(today, AHEAD_WORKDAYS)
    except CalendarError:  # a firm that never works again
        return today + timedelta(days=2 * AHEAD_WORKDAYS)


def _groups(watching: Watching, desk: DateContext, until: date) -> list[Group]:
    """By supplier, the one with the least days in hand first."""
    names = dict(Supplier.objects.values_list("code", "name"))
    found: dict[str, list[MailLine]] = {}
    parts, signed = why_in_part(watching.needs.values()), set(signed_jobs())
    for key, need in watching.needs.items():
        lines = found.setdefault(names.get(need.supplier, need.supplier or NO_SUPPLIER), [])
        if need.order_by <= until:
            lines.append(order_line(need, desk, parts.get(key, ""), signed=need.job_id in signed))
        decide_by = watching.items[key].decide_by
        if decide_by is not None and days_in_hand(desk.today, need.order_by, desk.calendar) > 0:
            lines.append(decide_line(need, desk, signed=need.job_id in signed))
    groups = [Group(name, in_order(lines)) for name, lines in found.items() if lines]
    return sorted(groups, key=lambda group: (min(line.in_hand for line in group.lines), group.supplier))


def _undated() -> Iterable[str]:
    """What has no day to order by because something is missing, said once for each job."""
    counted: dict[str, int] = {}
    rows = StoredNeed.objects.filter(job__closed_on=None, order_by=None)
    for key, title in rows.order_by("job__key").values_list("job__key", "job__title"):
        name = " ".join(f"{key} {title}".split())
        counted[name] = counted.get(name, 0) + 1
    for name, count in counted.items():
        yield f"{name}: {count} item{'' if count == 1 else 's'} without dates because something is missing."


def _bad_line(item: BadItem) -> str:
    return " ".join(item.sentence.split())
