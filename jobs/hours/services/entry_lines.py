"""Hours as they are sent, read line by line: whose, of which day, how long, on what; each wrong entry is named."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from django.db.models import QuerySet

from catalog.core.ground.declared import As, Stripped, Text, Whole, read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import EntryError
from jobs.core.costs.hours import MINUTES_OF_A_DAY
from jobs.core.costs.tags import TAG_MEANING, note_number, read_tag
from jobs.hours.models import Worker
from jobs.hours.services.steps import Step, known_steps
from jobs.jobs.models import Job
from jobs.jobs.services.notes import note_numbers_of
from quoting.platform.formatting import day_words

MAX_LINES = 5_000


@dataclass(frozen=True)
class JobHoursLine:
    """Hours of one worker on one day."""

    worker: Annotated[int, Whole(1, 10**12)]
    day: date
    minutes: Annotated[int, Whole(1, MINUTES_OF_A_DAY), As(example=465)]
    step: Annotated[str, Stripped(60), "Key of a step of the job.", As(example="boards")] = ""
    tag: Annotated[str, Text(40), TAG_MEANING, As(example="rework")] = ""
    note: Annotated[str, Stripped(300)] = ""


@dataclass(frozen=True)
class HoursLine(JobHoursLine):
    """Hours of one worker on one day, on a job or elsewhere."""

    job: Annotated[str, Stripped(40), "Its number; empty for work on no job."] = ""
    elsewhere: Annotated[str, Stripped(200), "What was done, where it is on no job.", As(label="On no job")] = ""


@dataclass(frozen=True)
class HourLine:
    """path: where it stands in what was sent. minutes: as typed."""

    path: str
    worker: Worker
    day: date
    minutes: int
    job: Job | None
    step: str
    elsewhere: str
    tag: str
    note: str

    @property
    def said(self) -> tuple[object, ...]:
        """What tells it from another; as `said_of` has it of a row."""
        job = self.job.pk if self.job else None
        return self.worker.pk, self.day, self.minutes, job, self.step, self.elsewhere, self.tag, self.note

    @property
    def work(self) -> tuple[object, ...]:
        """The same work of the same worker on the same day is not entered twice unasked."""
        worker, day, _, job, step, elsewhere, tag, _ = self.said
        return worker, day, job, step, elsewhere.casefold(), tag


class LineReader:
    """Reads lines; workers, jobs and steps are looked up once each. only_job: the job of all lines, where it is said
    elsewhere. among: whose hours may be entered."""

    def __init__(self, today: date, among: QuerySet[Worker], only_job: Job | None = None) -> None:
        self.today, self._among, self._only_job = today, among, only_job
        self._workers: dict[int, Worker] = {}
        self._jobs: dict[str, Job | None] = {}
        self._steps: dict[int, dict[str, Step]] = {}
        self._notes: dict[int, set[int]] = {}

    def hold(self, worker_ids: Iterable[int]) -> None:
        """To the end of the transaction nobody else enters hours of these workers."""
        rows = self._among.filter(pk__in=set(worker_ids)).order_by("pk").select_for_update(of=("self",))
        self._workers = {row.pk: row for row in rows}

    def read(self, reader: Reader) -> HourLine:
        return self.line(read(HoursLine, reader), reader.path)

    def line(self, sent: HoursLine, path: str) -> HourLine:
        try:
            return self._line(sent, path)
        except EntryError as error:
            raise complain(path, error.field, error.reason) from error

    def _line(self, sent: HoursLine, path: str) -> HourLine:
        worker = self._workers.get(sent.worker)
        if worker is None:
            raise EntryError("worker", "is nobody whose hours you enter; the owner keeps the list of workers")
        if sent.day > self.today:
            message = f"{day_words(sent.day)} has not come yet; today is {day_words(self.today)}"
            raise EntryError("day", message)
        if not worker.works_on(sent.day):
            raise EntryError("day", _outside(worker, sent.day))
        job = self._only_job or self._job(sent.job)
        tag = self._tag(sent.tag, job)
        self._refuse_misplaced(sent, tag, job)
        return HourLine(path, worker, sent.day, sent.minutes, job, sent.step, sent.elsewhere, tag, sent.note)

    def _job(self, key: str) -> Job | None:
        if key and key not in self._jobs:
            self._jobs[key] = Job.objects.filter(key=key).first()
        if key and self._jobs[key] is None:
            message = f'"{key}" is not a job; give its number, or leave it empty and say what was done'
            raise EntryError("job", message)
        return self._jobs[key] if key else None

    def _refuse_misplaced(self, sent: HoursLine, tag: str, job: Job | None) -> None:
        if job is None:
            if not sent.elsewhere:
                raise EntryError("elsewhere", "is missing: say what was done, or name the job")
            if sent.step or tag:
                name = "step" if sent.step else "tag"
                raise EntryError(name, "belongs to a job; name the job, or leave this empty")
            return
        if sent.elsewhere:
            raise EntryError("elsewhere", "is for work on no job; write it into the note")
        if sent.step and sent.step not in (steps := self._steps_of(job)):
            known = ", ".join(steps) or "none"
            raise EntryError("step", f'"{sent.step}" is not a step of {job.key}; its steps are {known}')

    def _tag(self, text: str, job: Job | None) -> str:
        tag = read_tag(text)
        number = note_number(tag)
        if number is not None and job is not None and number not in self._notes_of(job):
            known = ", ".join(map(str, sorted(self._notes_of(job)))) or "none"
            raise EntryError("tag", f"{job.key} has no change note {number}; it has {known}")
        return tag

    def _steps_of(self, job: Job) -> dict[str, Step]:
        if job.pk not in self._steps:
            self._steps[job.pk] = known_steps(job, self.today)
        return self._steps[job.pk]

    def _notes_of(self, job: Job) -> set[int]:
        if job.pk not in self._notes:
            self._notes[job.pk] = set(note_numbers_of(job.pk))
        return self._notes[job.pk]


def worker_ids(lines: Iterable[object]) -> set[int]:
    """Of lines as they were sent, before they are read; what is not a number is complained of as they are."""
    result = [line.get("worker") for line in lines if isinstance(line, dict)]
    return {int(text) for text in map(str, result) if text.isascii() and text.isdigit() and len(text) < 13}


def _outside(worker: Worker, day: date) -> str:
    if day < worker.first_day:
        return f"{day_words(day)} is before {worker} began, {day_words(worker.first_day)}"
    assert worker.last_day is not None
    return f"{day_words(day)} is after the last day of {worker}, {day_words(worker.last_day)}"


def complain(path: str, name: str, reason: str) -> DocumentError:
    return DocumentError.at(f"{path}.{name}" if path else name, reason)
