"""How long the steps of a job still take, as the lead or the estimator says."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.request_keys import refuse_another, request_key_of
from jobs.hours.models import HoursLeft
from jobs.hours.models.hours_left import MAX_LEFT, MAX_PERCENT
from jobs.hours.services.steps import known_steps
from jobs.jobs.models import Job
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import month_to_post

MAX_STEPS = 200


@dataclass(frozen=True)
class LeftLine:
    step: str
    minutes: int
    is_done: bool
    percent: int | None


@transaction.atomic
def say_left(
    job: Job, document: dict[str, Any], signature: Signature, *, now: datetime
) -> tuple[list[HoursLeft], bool]:
    """request_key, steps of step, minutes or is_done, and percent_done if they say so.

    Sent twice it is one; the newest of a step counts.
    """
    job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    reader = Reader(document)
    key, steps = request_key_of(reader), known_steps(job, signature.on)
    read = reader.items("steps", lambda entry: _line(entry, steps, job), MAX_STEPS)
    reader.finish()
    if len({line.step for line in read}) != len(read) or not read:
        raise DocumentError.at("steps", "say of at least one step, and of each once, how long it still takes")
    present = list(HoursLeft.objects.filter(request_key=key))
    if present:
        stored = {(row.job_id, row.step, row.minutes, row.is_done, row.percent_done) for row in present}
        sent = {(job.pk, line.step, line.minutes, line.is_done, line.percent) for line in read}
        refuse_another(stored != sent, "other hours")
        return present, False
    month = month_to_post(signature.on)
    text = {"day": signature.on, "posted_month": month, "said_at": now, "said_by_name": signature.by}
    rows = [
        HoursLeft.objects.create(
            job=job,
            step=line.step,
            minutes=line.minutes,
            is_done=line.is_done,
            percent_done=line.percent,
            request_key=key,
            **text,
        )
        for line in read
    ]
    return rows, True


def _line(reader: Reader, steps: Any, job: Job) -> LeftLine:
    step = reader.text("step", longest=60).strip()
    if step not in steps:
        raise reader.error("step", f'"{step}" is no step of {job.key}; its steps are {", ".join(steps) or "none"}')
    is_done = reader.flag("is_done", False)
    minutes = reader.optional_whole("minutes", 0, MAX_LEFT)
    if minutes is None and not is_done:
        raise reader.error("minutes", "is missing: say how long it still takes, or that it is done")
    if is_done and minutes:
        raise reader.error("minutes", "is more than nought, and the step is said to be done; say one of the two")
    percent = reader.optional_whole("percent_done", 1, MAX_PERCENT)
    if is_done and percent is not None:
        raise reader.error("percent_done", "is said of a step that is done; say one of the two")
    return LeftLine(step, minutes or 0, is_done, percent)
