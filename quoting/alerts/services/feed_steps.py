"""What is next for a job as an event of calendars, with where it stands; it follows the row of the job's life."""

from collections.abc import Collection
from datetime import datetime

from jobs.jobs.models import Job
from quoting.alerts.models import EventKind
from quoting.alerts.services.event_ids import EventDraft
from quoting.alerts.services.feed_events import keep_events
from quoting.life.services.reading import ReadLife, lives_of
from quoting.platform.firm_day import day_at_the_firm


def keep_steps(job_ids: Collection[int], now: datetime) -> None:
    """In the transaction that keeps the rows of their lives."""
    jobs = list(Job.objects.filter(pk__in=job_ids).select_related("client"))
    reads = lives_of(jobs, day_at_the_firm(now))
    keep_events(jobs, {pk: step_drafts(read) for pk, read in reads.items()}, (EventKind.STEP,), now)


def step_drafts(read: ReadLife) -> list[EventDraft]:
    """One a job, which moves; none where no day is known. It says nothing that changes with the day alone."""
    step = read.life.next
    if step is None or step.by is None:
        return []
    summary, note = f"Next: {step.text}, {read.job.title}", " ".join(text for text in (read.stands, read.doer) if text)
    return [EventDraft(EventKind.STEP, ("next",), summary, note, step.by, step.by)]
