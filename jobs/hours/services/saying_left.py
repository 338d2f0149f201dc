"""How long the steps of a job still take, as the lead or the estimator says."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import As, Declared, Items, Stripped, Whole, read
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.ground.refusal import EntryError
from catalog.core.ground.request_keys import RequestKey, refuse_another
from jobs.hours.models import HoursLeft
from jobs.hours.models.hours_left import MAX_LEFT, MAX_PERCENT
from jobs.hours.services.steps import known_steps
from jobs.jobs.models import Job
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import month_to_post

MAX_STEPS = 200


@dataclass(frozen=True)
class StepLeft:
    """Minutes for the whole crew, or that it is done."""

    step: Annotated[str, Stripped(60), "Key of a step of the job.", As(example="boards")]
    minutes: Annotated[int | None, Whole(0, MAX_LEFT)] = None
    percent_done: Annotated[int | None, Whole(1, MAX_PERCENT)] = None
    is_done: bool = False

    def __post_init__(self) -> None:
        if self.minutes is None and not self.is_done:
            raise EntryError("minutes", "is missing: say how long it still takes, or that it is done")
        if self.is_done and self.minutes:
            raise EntryError("minutes", "is more than zero, and the step is said to be done; say one of the two")
        if self.is_done and self.percent_done is not None:
            raise EntryError("percent_done", "is said of a step that is done; say one of the two")

    @property
    def said(self) -> tuple[object, ...]:
        return self.step, self.minutes or 0, self.is_done, self.percent_done


@dataclass(frozen=True)
class NewHoursLeft:
    """How long steps still take."""

    request_key: RequestKey
    steps: Annotated[tuple[StepLeft, ...], Items(Declared(StepLeft), MAX_STEPS)]


@transaction.atomic
def say_left(
    job: Job, document: dict[str, Any], signature: Signature, *, now: datetime
) -> tuple[list[HoursLeft], bool]:
    """document: as `NewHoursLeft`. Sent twice it is one; the newest of a step counts."""
    job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    said = read(NewHoursLeft, Reader(document))
    _refuse_unknown(said.steps, job, known_steps(job, signature.on))
    if len({line.step for line in said.steps}) != len(said.steps) or not said.steps:
        raise DocumentError.at("steps", "say of at least one step, and of each once, how long it still takes")
    present = list(HoursLeft.objects.filter(request_key=said.request_key))
    if present:
        stored = {(row.job_id, row.step, row.minutes, row.is_done, row.percent_done) for row in present}
        refuse_another(stored != {(job.pk, *line.said) for line in said.steps}, "other hours")
        return present, False
    month = month_to_post(signature.on)
    text = {"day": signature.on, "posted_month": month, "said_at": now, "said_by_name": signature.by}
    rows = [
        HoursLeft.objects.create(
            job=job,
            step=line.step,
            minutes=line.minutes or 0,
            is_done=line.is_done,
            percent_done=line.percent_done,
            request_key=said.request_key,
            **text,
        )
        for line in said.steps
    ]
    return rows, True


def _refuse_unknown(said: Sequence[StepLeft], job: Job, steps: Collection[str]) -> None:
    known = ", ".join(steps) or "none"
    problems = [
        DocumentProblem(f"steps[{place}].step", f'"{line.step}" is not a step of {job.key}; its steps are {known}')
        for place, line in enumerate(said)
        if line.step not in steps
    ]
    if problems:
        raise DocumentError(problems)
