"""Rows that count in a month, read once for all that adds them up."""

from datetime import date

from jobs.hours.models import TimeEntry
from quoting.month.models import OverheadActual
from quoting.platform.read_once import read_once


def entries_of(month: date) -> list[TimeEntry]:
    """Hours, on jobs and elsewhere; by their day."""
    rows = TimeEntry.objects.filter(posted_month=month, voided_at=None).select_related("worker", "job")
    return read_once(("entries", month), lambda: list(rows.order_by("day", "pk")))


def overhead_rows(month: date) -> list[OverheadActual]:
    """By their day."""
    rows = OverheadActual.objects.filter(posted_month=month, voided_at=None)
    return read_once(("overhead", month), lambda: list(rows.order_by("day", "pk")))


def is_counted(day: date, month: date, later: bool | None) -> bool:
    """Of what counts in the month: of its own days, or of earlier ones; for None of both."""
    return later is None or (day < month) == later
