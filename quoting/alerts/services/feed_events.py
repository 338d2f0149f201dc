"""Events as they were last given out, kept so that one that moves is the same event, and one that goes is told."""

from collections.abc import Collection, Iterable, Sequence
from datetime import date, datetime, timedelta

from django.db import transaction
from django.db.models import F, Q

from jobs.jobs.models import Job
from jobs.jobs.services.signed import SIGNED, signed_jobs
from jobs.needs.models import StoredNeed
from quoting.alerts.models import EventKind, FeedEvent
from quoting.alerts.services.calendar_events import (
    NEED_KINDS,
    Event,
    GivenEvent,
    days_of_row,
    events_of_items,
    events_of_plan,
)
from quoting.core.quotes.work_up import WorkUp

SAYS = ["job_id", "kind", "about", "summary", "note", "signed"]
KEPT = ["job", *SAYS[1:], "first_day", "last_day", "sequence", "modified_at", "cancelled"]
# What has been over for two months, and what was called off three months ago, has reached every calendar.
PAST_SHOWN, CANCELLED_SHOWN = timedelta(days=60), timedelta(days=90)
MOST_EVENTS = 5_000


@transaction.atomic
def keep_job(job: Job, done: WorkUp | None, now: datetime) -> None:
    """After a job's needs were stored. Of one in trouble the events stay as they were; a closed one has none."""
    if done is None and job.closed_on is None:
        return
    planned = [] if done is None else events_of_plan(job.key, job.title, done.plan)
    items = _of_rows([job]) if done is not None else []
    _keep([job.pk], [(job.pk, event) for event in planned] + items, EventKind.values, now)


@transaction.atomic
def keep_items(job_ids: Sequence[int], now: datetime) -> None:
    """After the dates of stored needs were counted again; activities are as they were."""
    _keep(job_ids, _of_rows(Job.objects.filter(pk__in=job_ids)), NEED_KINDS, now)


def keep_signing(job_id: int, now: datetime) -> None:
    """After a job was signed, or its acceptance taken back."""
    signed = job_id in signed_jobs()
    others = FeedEvent.objects.filter(job=job_id, cancelled=False).exclude(signed=signed)
    others.update(signed=signed, sequence=F("sequence") + 1, modified_at=now)


def cancel_orphans(now: datetime) -> None:
    """Events of jobs that were deleted; safe to be done by any number at once."""
    orphans = FeedEvent.objects.filter(job=None, cancelled=False)
    orphans.update(cancelled=True, sequence=F("sequence") + 1, modified_at=now)


def as_given(job: Job, events: Sequence[Event], now: datetime) -> list[GivenEvent]:
    """Numbered as calendars would be given them now, those that are gone cancelled. Nothing is stored."""
    before = {row.uid: row for row in FeedEvent.objects.filter(Q(job=job) | Q(uid__in=[one.uid for one in events]))}
    signed = job.pk in signed_jobs()
    rows = [_row(job.pk, event, before.get(event.uid), now, signed) or before[event.uid] for event in events]
    uids = {event.uid for event in events}
    gone = [row if row.cancelled else _cancelled(row, now) for uid, row in before.items() if uid not in uids]
    return [_given(row) for row in (*rows, *(one for one in gone if one.modified_at >= now - CANCELLED_SHOWN))]


def feed_events(kinds: Collection[str], today: date, now: datetime, work: str = "") -> list[GivenEvent]:
    """Of all jobs, or of signed or of unsigned ones alone, by day; one more than MOST_EVENTS when there are more."""
    recent = Q(cancelled=False) | Q(modified_at__gte=now - CANCELLED_SHOWN)
    rows = FeedEvent.objects.filter(recent, kind__in=kinds, last_day__gte=today - PAST_SHOWN)
    rows = rows.filter(signed=work == SIGNED) if work else rows
    return [_given(row) for row in rows[: MOST_EVENTS + 1]]


def _of_rows(jobs: Iterable[Job]) -> list[tuple[int, Event]]:
    by_id = {job.pk: job for job in jobs}
    found = []
    for row in StoredNeed.objects.filter(job__in=by_id):
        job = by_id[row.job_id]
        found += [(job.pk, event) for event in events_of_items(job.key, job.title, [days_of_row(row)])]
    return found


def _keep(job_ids: Sequence[int], events: list[tuple[int, Event]], kinds: Collection[str], now: datetime) -> None:
    """Store what is new or has changed, and cancel what of those kinds is there no more."""
    uids = {event.uid for _, event in events}
    # By id as well: a job entered anew under its old key takes its events up again.
    rows = FeedEvent.objects.select_for_update().filter(Q(job__in=job_ids) | Q(uid__in=uids))
    before = {row.uid: row for row in rows.order_by("pk")}
    # Asked once the rows are held: who signs meanwhile waits for them.
    signed = set(signed_jobs())
    changed = [
        row for job_id, event in events if (row := _row(job_id, event, before.get(event.uid), now, job_id in signed))
    ]
    gone = [row for row in before.values() if row.kind in kinds and row.uid not in uids and not row.cancelled]
    FeedEvent.objects.bulk_create(
        [*changed, *(_cancelled(row, now) for row in gone)],
        update_conflicts=True,
        unique_fields=["uid"],
        update_fields=KEPT,
        batch_size=200,
    )


def _row(job_id: int, event: Event, before: FeedEvent | None, now: datetime, signed: bool) -> FeedEvent | None:
    """The row as it becomes; None when it stays."""
    says = {
        "job_id": job_id,
        "kind": event.kind,
        "about": event.about,
        "summary": event.summary,
        "note": event.note,
        "first_day": event.first_day,
        "last_day": event.last_day,
        "cancelled": False,
        "signed": signed,
    }
    if before is None:
        return FeedEvent(uid=event.uid, modified_at=now, **says)
    if all(getattr(before, name) == value for name, value in says.items()):
        return None
    return FeedEvent(uid=event.uid, sequence=before.sequence + 1, modified_at=max(now, before.modified_at), **says)


def _cancelled(row: FeedEvent, now: datetime) -> FeedEvent:
    says = {name: getattr(row, name) for name in SAYS}
    days = {"first_day": row.first_day, "last_day": row.last_day}
    number = {"sequence": row.sequence + 1, "modified_at": max(now, row.modified_at)}
    return FeedEvent(uid=row.uid, cancelled=True, **says, **days, **number)


def _given(row: FeedEvent) -> GivenEvent:
    kind = EventKind(row.kind)
    event = Event(row.uid, kind, row.about, row.summary, row.note, row.first_day, row.last_day)
    return GivenEvent(event, row.sequence, row.modified_at, row.cancelled, row.signed)
