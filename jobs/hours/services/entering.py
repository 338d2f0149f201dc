"""Hours entered: one sending of one line or many, kept once however often it is sent."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, Any

from django.db import IntegrityError, transaction
from django.db.models import QuerySet

from catalog.core.ground.declared import Declared, Items, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.request_keys import RequestKey, key_used, refuse_another
from jobs.core.costs.hours import rounded_minutes
from jobs.hours.models import TimeEntry, Worker
from jobs.hours.services.counting import rounding
from jobs.hours.services.day_limits import refuse_too_much
from jobs.hours.services.entry_lines import MAX_LINES, HourLine, HoursLine, JobHoursLine, LineReader, worker_ids
from jobs.hours.services.rates import RatesOfDays
from jobs.jobs.models import Job
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import month_to_post

OTHER_HOURS = "other hours"


@dataclass(frozen=True, kw_only=True)
class HoursSent:
    """What is sent with hours: the key, and what is answered of what was asked."""

    request_key: RequestKey
    is_long_day: Annotated[bool, "More than 12 hours of one day are right."] = False
    adds: Annotated[bool, "The same work is there already, and this comes to it."] = False


@dataclass(frozen=True, kw_only=True)
class NewJobHours(HoursSent):
    """Hours on one job."""

    lines: Annotated[tuple[JobHoursLine, ...], Items(Declared(JobHoursLine), MAX_LINES)]


@dataclass(frozen=True, kw_only=True)
class NewHours(HoursSent):
    """Hours on jobs and elsewhere."""

    lines: Annotated[tuple[HoursLine, ...], Items(Declared(HoursLine), MAX_LINES)]


@dataclass(frozen=True)
class Entered:
    """is_new: False when it was sent before."""

    rows: tuple[TimeEntry, ...]
    is_new: bool

    @property
    def late(self) -> tuple[TimeEntry, ...]:
        """Those that count in a later month, since their own is closed."""
        return tuple(row for row in self.rows if row.is_late)


@transaction.atomic
def enter_hours(
    document: dict[str, Any],
    signature: Signature,
    *,
    now: datetime,
    among: QuerySet[Worker],
    job: Job | None = None,
) -> Entered:
    """document: as `NewHours`, with `job` as `NewJobHours`.

    among: whose hours may be entered. job: of all lines, where it is said elsewhere. Raises DocumentError naming each
    wrong entry, AskFirst for more than 12 hours of a day and for the same work entered again, Refused.
    """
    reader = Reader(document)
    sent = read(HoursSent, reader, whole=False)
    key = sent.request_key
    lines = LineReader(signature.on, among, job)
    lines.hold(worker_ids(reader.values("lines", MAX_LINES)))
    entries = reader.items("lines", lines.read, MAX_LINES)
    reader.finish()
    if not entries:
        raise reader.error("lines", "enter the hours of at least one worker")
    present = list(TimeEntry.objects.filter(request_key=key).order_by("place"))
    if present:
        refuse_another([said_of(row) for row in present] != [line.said for line in entries], OTHER_HOURS)
        return Entered(tuple(present), False)
    refuse_too_much(entries, is_long_day=sent.is_long_day, adds=sent.adds)
    return Entered(tuple(keep(entries, key, signature, now)), True)


def keep(
    lines: Sequence[HourLine], key: str, signature: Signature, now: datetime, *, first: int = 0, **more: Any
) -> list[TimeEntry]:
    """first: place of the first line under the key. Whoever calls this holds the workers."""
    rates, step = RatesOfDays(), rounding()
    try:
        with transaction.atomic():
            return [
                TimeEntry.objects.create(
                    worker=line.worker,
                    job=line.job,
                    step=line.step,
                    elsewhere=line.elsewhere,
                    day=line.day,
                    posted_month=month_to_post(line.day),
                    typed_minutes=line.minutes,
                    minutes=rounded_minutes(line.minutes, step),
                    tag=line.tag,
                    note=line.note,
                    rate=rates.on(line.day, line.worker.rate_name),
                    rate_name=line.worker.rate_name,
                    request_key=key,
                    place=place,
                    entered_at=now,
                    entered_by_name=signature.by,
                    **more,
                )
                for place, line in enumerate(lines, first)
            ]
    except IntegrityError:
        # Sent at this moment by somebody else, of other workers: the same key cannot mean both.
        if TimeEntry.objects.filter(request_key=key).exists():
            raise key_used(OTHER_HOURS) from None
        raise


def said_of(row: TimeEntry) -> tuple[object, ...]:
    what = row.job_id, row.step, row.elsewhere, row.tag, row.note
    return row.worker_id, row.day, row.typed_minutes, *what
