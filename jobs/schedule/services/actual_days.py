"""An activity begun or ended on site: said once, under the name of whoever says it, and taken back if wrong."""

from collections.abc import Callable, Iterable
from datetime import date

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.services.book import book_of
from jobs.core.schedule.activities import TAPPED, PlannedActivity
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed, job_changed
from jobs.schedule.models import ActualDays, PlannedActivityDays
from jobs.work_up.services.job_work_up import work_of
from quoting.platform.formatting import day_words
from quoting.platform.people.signatures import Signature

before_done: list[Callable[[Job], None]] = []
"""Called before the last activity of a job ends; whoever finds it not done raises Refused."""


def begin_activity(job: Job, key: str, signature: Signature, *, on: date | None = None) -> tuple[ActualDays, bool]:
    """on: today where it is not said. Said twice it began once. The row, and whether it is new.

    Raises DocumentError for a day to come, Refused for an activity that is not there or began on another day.
    """
    name, day = _activity(job, key, signature).name, _day(on, signature)
    with transaction.atomic():
        job, row = _held(job, key)
        if row is not None:
            if on is not None and row.began_on != on:
                raise Refused(f"{name} began on {day_words(row.began_on)}, says {row.began_by}. Undo that first.")
            return row, False
        job_changed(job.pk)
        row = ActualDays.objects.create(job=job, key=key, began_on=day, began_by=signature.by)
        fact_changed(job.pk)
        return row, True


def end_activity(job: Job, key: str, signature: Signature, *, on: date | None = None) -> tuple[ActualDays, bool]:
    """As `begin_activity`; what ends has begun. Before the last one ends `before_done` is asked."""
    name, day = _activity(job, key, signature).name, _day(on, signature)
    with transaction.atomic():
        job, row = _held(job, key)
        if row is None:
            raise Refused(f"{name} has not begun. Begin it first.")
        if row.ended_on is not None:
            if on is not None and row.ended_on != on:
                raise Refused(f"{name} ended on {day_words(row.ended_on)}, says {row.ended_by}. Undo that first.")
            return row, False
        if _is_last(job, key):
            for check in before_done:
                check(job)
        if day < row.began_on:
            raise DocumentError.at("on", f"{day_words(day)} is before {day_words(row.began_on)}, when it began")
        job_changed(job.pk)
        row.ended_on, row.ended_by = day, signature.by
        row.save()
        fact_changed(job.pk)
        return row, True


@transaction.atomic
def take_begin_back(job: Job, key: str) -> None:
    """Safe to repeat. Raises Refused for what has ended."""
    job, row = _held(job, key)
    if row is None:
        return
    if row.ended_on is not None:
        raise Refused("It has ended. Undo its end first.")
    job_changed(job.pk)
    row.delete()
    fact_changed(job.pk)


@transaction.atomic
def take_end_back(job: Job, key: str) -> None:
    job, row = _held(job, key)
    if row is not None and row.ended_on is not None:
        job_changed(job.pk)
        row.ended_on, row.ended_by = None, ""
        row.save()
        fact_changed(job.pk)


def _held(job: Job, key: str) -> tuple[Job, ActualDays | None]:
    """Two who say it at the same moment: one of them waits here."""
    job = Job.objects.select_for_update().get(pk=job.pk)
    if job.closed_on is not None:
        raise Refused(f"{job} is closed. Open it again first.")
    return job, ActualDays.objects.filter(job=job, key=key).first()


def _is_last(job: Job, key: str) -> bool:
    last = last_planned(PlannedActivityDays.objects.filter(job=job))
    return last is not None and last.key == key


def last_planned(rows: Iterable[PlannedActivityDays]) -> PlannedActivityDays | None:
    """What ends last: with it a job is built."""
    return max(rows, key=lambda row: (row.last_day, row.first_day, row.pk), default=None)


def _activity(job: Job, key: str, signature: Signature) -> PlannedActivity:
    work_up = work_of(job, book_of(), signature.on).done
    if work_up is None:
        raise Refused(f"The walls of {job} cannot be worked out, so it has no activities.")
    there = [activity for activity in work_up.plan.activities if activity.kind in TAPPED]
    result = next((activity for activity in there if activity.key == key), None)
    if result is None:
        raise Refused(
            f'{job} has no activity "{key}". It has {", ".join(activity.key for activity in there) or "none"}.'
        )
    return result


def _day(on: date | None, signature: Signature) -> date:
    if on is not None and on > signature.on:
        raise DocumentError.at("on", f"{day_words(on)} has not come yet; today is {day_words(signature.on)}")
    return on or signature.on
