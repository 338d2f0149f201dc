"""Events as they were last given out, kept so that one that moves is the same event, and one that goes is told."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db import transaction
from django.db.models import F, Q

from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.dates.services.item_schedule import items_of_work
from jobs.jobs.models import Job
from jobs.jobs.services.signed import SIGNED, signed_jobs
from jobs.work_up.services.job_work_up import JobResult
from quoting.alerts.models import EventKind, FeedEvent
from quoting.alerts.services.calendar_events import NEED_KINDS, WORKED_KINDS, drafts_of, drafts_of_plan
from quoting.alerts.services.calendar_items import days_not_ordered, items_of_jobs, rows_as_items
from quoting.alerts.services.event_ids import Event, EventDraft, with_ids

SAYS = ["job_id", "kind", "about", "members", "summary", "note", "signed"]
KEPT = ["job", *SAYS[1:], "first_day", "last_day", "sequence", "modified_at", "cancelled"]
# What has been over for two months, and what was called off three months ago, has reached every calendar.
PAST_SHOWN, CANCELLED_SHOWN = timedelta(days=60), timedelta(days=90)
MAX_EVENTS = 5_000


@dataclass(frozen=True)
class GivenEvent:
    """An event as calendars are given it. sequence rises with each change, modified_at is when it last did."""

    event: Event
    sequence: int
    modified_at: datetime
    cancelled: bool = False
    signed: bool = True


@transaction.atomic
def keep_job(job: Job, work_up: JobWorkUp | None, now: datetime) -> None:
    """After a job's needs were stored. Of one in trouble the events stay as they were; a closed one has none."""
    if work_up is None and job.closed_on is None:
        return
    drafts = [] if work_up is None else [*drafts_of_plan(job.title, work_up.plan), *_drafts([job])[job.pk]]
    keep_events([job], {job.pk: drafts}, WORKED_KINDS, now)


@transaction.atomic
def keep_items(job_ids: Collection[int], now: datetime) -> None:
    """After dates were counted again, or something was ordered, came or went back; activities are as they were."""
    jobs = list(Job.objects.filter(pk__in=job_ids))
    keep_events(jobs, _drafts(jobs), NEED_KINDS, now)


def keep_signing(job_id: int, now: datetime) -> None:
    """After a job was signed, or its acceptance taken back."""
    signed = job_id in signed_jobs()
    # What is next is held after the row of the job's life alone, and follows that.
    others = FeedEvent.objects.filter(job=job_id, cancelled=False, kind__in=WORKED_KINDS).exclude(signed=signed)
    others.update(signed=signed, sequence=F("sequence") + 1, modified_at=now)


def cancel_orphans(now: datetime) -> None:
    """Events of jobs that were deleted; safe to be done by any number at once."""
    orphans = FeedEvent.objects.filter(job=None, cancelled=False)
    orphans.update(cancelled=True, sequence=F("sequence") + 1, modified_at=now)


def as_given(job: Job, work_up: JobWorkUp, now: datetime) -> list[GivenEvent]:
    """Numbered as calendars would be given them now, those that are gone cancelled. Nothing is stored."""
    item = items_of_jobs([job.pk], items_of_work(JobResult(job, work_up)))[job.pk]
    drafts = [*drafts_of(job.title, item.items, item.lines), *drafts_of_plan(job.title, work_up.plan)]
    before = {row.uid: row for row in FeedEvent.objects.filter(job=job, kind__in=WORKED_KINDS).order_by("pk")}
    events, signed = with_ids(job.key, drafts, before.values()), job.pk in signed_jobs()
    before |= {row.uid: row for row in FeedEvent.objects.filter(uid__in=[event.uid for event in events])}
    rows = [_row(job.pk, event, before.get(event.uid), now, signed) or before[event.uid] for event in events]
    uids = {event.uid for event in events}
    gone = [row if row.cancelled else _cancelled(row, now) for uid, row in before.items() if uid not in uids]
    return [_given(row) for row in (*rows, *(entry for entry in gone if entry.modified_at >= now - CANCELLED_SHOWN))]


def unstored_events(work_up: JobWorkUp) -> list[Event]:
    """Of a job nobody has stored: nothing of it is ordered."""
    job = work_up.read.job
    drafts = drafts_of(job.title, [days_not_ordered(need) for need in work_up.needs], [])
    return with_ids(job.key, [*drafts, *drafts_of_plan(job.title, work_up.plan)], ())


def feed_events(kinds: Collection[str], today: date, now: datetime, work: str = "") -> list[GivenEvent]:
    """Of all jobs, or of signed or of unsigned ones alone, by day; one more than MAX_EVENTS when there are more."""
    recent = Q(cancelled=False) | Q(modified_at__gte=now - CANCELLED_SHOWN)
    rows = FeedEvent.objects.filter(recent, kind__in=kinds, last_day__gte=today - PAST_SHOWN)
    rows = rows.filter(signed=work == SIGNED) if work else rows
    return [_given(row) for row in rows[: MAX_EVENTS + 1]]


def _drafts(jobs: Collection[Job]) -> dict[int, list[EventDraft]]:
    ids = [job.pk for job in jobs]
    drafts = items_of_jobs(ids, rows_as_items(ids))
    return {job.pk: drafts_of(job.title, drafts[job.pk].items, drafts[job.pk].lines) for job in jobs}


def keep_events(
    jobs: Collection[Job], drafts: Mapping[int, Sequence[EventDraft]], kinds: Collection[str], now: datetime
) -> None:
    """Store what is new or has changed, and cancel what of those kinds is there no more."""
    rows = FeedEvent.objects.select_for_update().filter(job__in=jobs, kind__in=kinds).order_by("pk")
    before = {row.uid: row for row in rows}
    events = []
    for job in jobs:
        mine = [row for row in before.values() if row.job_id == job.pk]
        events += [(job.pk, event) for event in with_ids(job.key, drafts[job.pk], mine)]
    uids = {event.uid for _, event in events}
    # By id as well: a job entered anew under its old key takes its events up again.
    others = FeedEvent.objects.select_for_update().filter(uid__in=uids.difference(before))
    before |= {row.uid: row for row in others.order_by("pk")}
    # Asked once the rows are held: who signs meanwhile waits for them.
    signed = set(signed_jobs())
    changed = [
        row for job_id, event in events if (row := _row(job_id, event, before.get(event.uid), now, job_id in signed))
    ]
    gone = [row for row in before.values() if row.uid not in uids and not row.cancelled]
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
        "members": list(event.members),
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
    members = tuple(row.members)
    event = Event(row.uid, kind, row.about, members, row.summary, row.note, row.first_day, row.last_day)
    return GivenEvent(event, row.sequence, row.modified_at, row.cancelled, row.signed)
