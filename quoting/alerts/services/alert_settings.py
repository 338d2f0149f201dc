"""At how many days in hand alerts come up, and from which hour the list of the week goes out."""

from datetime import time

from django.db import transaction

from catalog.core.ground.refusal import EntryError
from jobs.core.ordering.alerts import AlertError, AlertPlan
from quoting.alerts.models import AlertTimes


def alert_times() -> AlertTimes:
    """The firm's, or the usual ones, not stored."""
    return AlertTimes.objects.first() or AlertTimes()


def plan_of(times: AlertTimes) -> AlertPlan:
    return AlertPlan(tuple(int(part) for part in times.days_ahead.split(", ")))


@transaction.atomic
def set_alert_times(days_ahead: str, list_at: str) -> AlertTimes:
    """days_ahead: as typed, such as 10, 5, 1; list_at: an hour of the day, such as 07:00. Raises EntryError."""
    days = _days(days_ahead)
    row, _ = AlertTimes.objects.update_or_create(
        pk=AlertTimes.ONLY_ID, defaults={"days_ahead": ", ".join(map(str, days)), "list_at": _hour(list_at)}
    )
    return row


def _days(text: str) -> tuple[int, ...]:
    parts = text.replace(",", " ").split()
    wrong = next((part for part in parts if not (part.isascii() and part.isdigit() and len(part) <= 3)), None)
    if wrong is not None or not parts:
        message = f"{(wrong or text)[:40]!r} is not a number of working days; write such as 10, 5, 1."
        raise EntryError("days_ahead", message)
    days = tuple(sorted({int(part) for part in parts}, reverse=True))
    try:
        AlertPlan(days)
    except AlertError as refusal:
        raise EntryError("days_ahead", str(refusal)) from refusal
    return days


def _hour(text: str) -> time:
    try:
        if len(text.strip()) not in (5, 8):
            raise ValueError
        return time.fromisoformat(text.strip()).replace(second=0, microsecond=0, tzinfo=None)
    except ValueError:
        raise EntryError("list_at", f"{text[:40]!r} is not an hour of the day; write such as 07:00.") from None
