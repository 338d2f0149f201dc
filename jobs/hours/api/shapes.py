"""What is sent and answered of workers and hours."""

from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import Amount, As, Month, Of, View, itself
from jobs.core.costs.hours import ROUNDINGS
from jobs.hours.models import TimeEntry
from jobs.hours.services.correcting import HoursCorrection
from jobs.hours.services.counting import rounding
from jobs.hours.services.entering import Entered, NewHours, NewJobHours
from jobs.hours.services.job_hours import NamedStepHours, spent
from jobs.hours.services.refreezing import RatesToFreeze, mark_over
from jobs.hours.services.saying_left import NewHoursLeft
from jobs.hours.services.workers import NewWorker, WorkerChanges
from quoting.platform.api.declared import EnteredAndVoided, answer_shapes, request_shapes
from quoting.platform.api.parts import WHOLE, given, page, thing


class WorkerShown(View):
    """Somebody whose hours are entered."""

    document_name = "worker"

    id: int
    name: str
    rate_name: Annotated[str, As(withheld="owner")]
    first_day: date
    last_day: date | None
    login_name: Annotated[str, As(withheld="owner"), Of(lambda row: row.person.login_name if row.person else "")]


class WorkersShown(View):
    """The firm's workers, and to how many minutes theirs are rounded."""

    document_name = "workers"

    workers: Annotated[tuple[WorkerShown, ...], Of(itself)]
    rounding: Annotated[int, Of(lambda _: rounding())]


def _cost(row: TimeEntry) -> Decimal | None:
    return None if row.rate is None else row.to_core("").cost


class TimeEntryShown(View):
    """Hours of one worker on one day. `minutes` is negative where an entry of a closed month is taken back."""

    document_name = "time_entry"

    id: int
    worker: Annotated[int, Of("worker_id")]
    worker_name: Annotated[str, Of("worker.name")]
    day: date
    counts_in: Annotated[date, Month(), "The month it counts in.", Of("posted_month")]
    job: Annotated[str | None, Of("job.key")]
    step: str
    elsewhere: str
    typed_minutes: int
    minutes: int
    tag: str
    note: str
    rate: Annotated[Decimal | None, Amount(), "What an hour cost the firm on the day worked.", As(withheld="margins")]
    rate_name: Annotated[str, As(withheld="margins")]
    cost: Annotated[Decimal | None, Amount(), As(withheld="margins"), Of(_cost)]
    entered: Annotated[EnteredAndVoided, As(spread=True), Of(itself)]
    reverses: Annotated[int | None, Of("reverses_id")]
    corrects: Annotated[int | None, Of("corrects_id")]


def _late(entered: Entered) -> list[int]:
    return [row.pk for row in entered.late]


class EnteredHours(View):
    """What was entered. `late`: ids of those that count in a later month, since their own is closed."""

    entries: Annotated[tuple[TimeEntryShown, ...], Of("rows")]
    late: Annotated[tuple[int, ...], Of(_late)]


class CorrectedHours(View):
    """`reversal`: what takes the entry back in the first open month; null where it is voided."""

    entry: TimeEntryShown
    reversal: TimeEntryShown | None
    anew: TimeEntryShown | None


def _is_done(step: NamedStepHours) -> bool:
    return bool(step.hours.left and step.hours.left.is_done)


def _said_by(step: NamedStepHours) -> str:
    return step.hours.left.by if step.hours.left else ""


class StepHoursShown(View):
    """One step of a job, in minutes.

    `left` is what somebody said, else what is planned and not spent; null is not known. `at_this_pace`: left that day
    if the rest goes as it went, from 25 % on. An empty step is work on no step.
    """

    document_name = "step_hours"

    step: Annotated[str, Of("hours.step")]
    name: str
    planned: Annotated[int | None, Of("hours.planned")]
    spent: Annotated[int, Of("hours.spent")]
    left: Annotated[int | None, Of("hours.left_minutes")]
    percent_done: Annotated[int | None, Of("hours.left.percent")]
    at_this_pace: Annotated[int | None, Of("hours.at_this_pace")]
    is_done: Annotated[bool, Of(_is_done)]
    said_by: Annotated[str, Of(_said_by)]
    said_on: Annotated[date | None, Of("hours.left.day")]


class JobHoursShown(View):
    """Hours of a job, planned, spent and left."""

    document_name = "job_hours"

    steps: Annotated[tuple[StepHoursShown, ...], Of(itself)]
    spent: Annotated[int, Of(spent)]


class LateRateShown(View):
    """An entry whose day has another labour rate by now."""

    document_name = "late_rate"

    entry: TimeEntryShown
    rate: Annotated[Decimal, Amount()]
    difference: Annotated[Decimal, Amount()]


class LateRatesShown(View):
    """Entries of open months whose day has another labour rate by now. `seen` goes back with what is chosen."""

    document_name = "late_rates"

    seen: Annotated[str, Of(mark_over)]
    entries: Annotated[tuple[LateRateShown, ...], Of(itself)]


SHAPES: dict[str, Any] = {
    **answer_shapes(WorkersShown, EnteredHours, CorrectedHours, JobHoursShown, LateRatesShown),
    **request_shapes(NewWorker, WorkerChanges, NewJobHours, NewHours, HoursCorrection, NewHoursLeft, RatesToFreeze),
    "TimeEntryPage": page("TimeEntry"),
    "Rounding": given(
        "How minutes count: as typed, or to the nearest 5, 6 or 15.", ("rounding",), rounding={"enum": list(ROUNDINGS)}
    ),
    "FrozenRates": thing("", changed=WHOLE),
}
