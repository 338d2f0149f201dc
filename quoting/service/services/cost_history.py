"""What was worked and billed for a job, told in its history: a line a bill, and a line each time hours were sent."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from typing import Any

from django.db.models import Sum

from catalog.services.book import firm_of
from jobs.bills.models import Bill
from jobs.core.costs.hours import hours_words
from jobs.hours.models import HoursLeft, TimeEntry
from jobs.jobs.models import Job
from quoting.platform.formatting import day_words, money_words
from quoting.service.services.change_history import Change, EntryChange


def bill_changes(job: Job) -> Iterator[Change]:
    """In no order. Two queries."""
    rows = Bill.objects.filter(lines__job=job, entered_at__isnull=False).select_related("supplier")
    rows = rows.annotate(of_job=Sum("lines__amount") + Sum("lines__tax")).order_by("pk")
    currency = firm_of().currency if rows else ""
    for row in rows:
        what = f"{row.get_kind_display().lower()} {row.number} of {row.seller}"
        amount = (EntryChange("For this job", "", money_words(row.of_job, currency)),)
        did = "reversed" if row.reverses_id else "entered"
        yield Change(row.entered_at, row.entered_by_name, what, did, amount, is_event=True)
        if row.voided_at:
            why = (EntryChange("Reason", "", row.void_reason),)
            yield Change(row.voided_at, row.voided_by_name, what, "voided", why, is_event=True)


def hour_changes(job: Job, *, with_rates: bool) -> Iterator[Change]:
    """Each sending of hours and of hours left, what was taken back, and rates frozen anew; in no order. Three queries
    at most."""
    rows = TimeEntry.objects.filter(job=job).select_related("worker").order_by("entered_at", "pk")
    entries = list(rows)
    for (_, takes_back), sent in _grouped(entries, lambda row: (row.request_key, row.reverses_id is not None)):
        lines = tuple(EntryChange(row.worker.name, "", _line(row, with_rates)) for row in sent)
        did = "reversed" if takes_back else "entered"
        yield Change(sent[0].entered_at, sent[0].entered_by_name, _worked(sent), did, lines, is_event=True)
    gone = [row for row in entries if row.voided_at is not None]
    for (when, who, why), voided in _grouped(gone, lambda row: (row.voided_at, row.voided_by_name, row.void_reason)):
        yield Change(when, who, _worked(voided), "voided", (EntryChange("Reason", "", why),), is_event=True)
    for _, text in _grouped(HoursLeft.objects.filter(job=job).order_by("pk"), lambda row: row.request_key):
        left = tuple(EntryChange(_step(row.step), "", _left(row)) for row in text)
        yield Change(text[0].said_at, text[0].said_by_name, "hours left", "entered", left, is_event=True)
    if with_rates and entries:
        yield from _frozen_anew(job)


def _frozen_anew(job: Job) -> Iterator[Change]:
    """Hours are changed in two ways: voided, which they say themselves, and given the rate that was entered late."""
    rows = TimeEntry.history.filter(job_id=job.pk, history_type="~", voided_at=None)
    for row in rows.select_related("history_user", "worker"):
        who = str(row.history_user) if row.history_user else "the service itself"
        rate = (EntryChange("Rate", "", _money(row.rate)),)
        yield Change(row.history_date, who, f"hours of {row.worker}, {day_words(row.day)}", "changed", rate)


def _grouped(rows: Iterable[Any], key: Callable[[Any], Any]) -> Iterable[tuple[Any, list[Any]]]:
    result: defaultdict[Any, list[Any]] = defaultdict(list)
    for row in rows:
        result[key(row)].append(row)
    return result.items()


def _worked(rows: list[TimeEntry]) -> str:
    """8 h of work on Wed 30 Sep"""
    first, last = min(row.day for row in rows), max(row.day for row in rows)
    until = f" to {day_words(last)}" if last > first else ""
    return f"{hours_words(abs(sum(row.minutes for row in rows)))} of work on {day_words(first)}{until}"


def _line(row: TimeEntry, with_rates: bool) -> str:
    rate = _money(row.rate) if with_rates and row.rate is not None else ""
    words = (hours_words(row.minutes), _step(row.step), row.tag, row.note, rate)
    return ", ".join(word for word in words if word)


def _left(row: HoursLeft) -> str:
    share = f", {row.percent_done} % done" if row.percent_done else ""
    return "done" if row.is_done else f"{hours_words(row.minutes)}{share}"


def _step(key: str) -> str:
    return key.replace("-", " ").replace("_", " ")


def _money(rate: Decimal) -> str:
    return f"{money_words(rate, firm_of().currency)} an hour"
