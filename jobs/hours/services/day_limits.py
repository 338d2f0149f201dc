"""What one worker's day holds: at most 24 hours over all jobs, more than 12 only when they are right, and the same
work once unless it is added."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Sum

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.core.costs.hours import LONG_DAY_MINUTES, MINUTES_OF_A_DAY, hours_words, rounded_minutes
from jobs.hours.models import TimeEntry
from jobs.hours.services.counting import rounding
from jobs.hours.services.entry_lines import HourLine, complain
from quoting.platform.formatting import day_words

LONG_DAY, ADDS = "is_long_day", "adds"
ASKS = {LONG_DAY: "Is that right?", ADDS: "Add these?"}
WorkersDay = tuple[int, date]


class AskFirst(Refused):
    """Nothing is kept until whoever enters it says that it is right. path: what they say it with."""

    def __init__(self, path: str, *sentences: str) -> None:
        super().__init__(*sentences)
        self.path = path


@dataclass(frozen=True)
class Question:
    """path: what it is answered with. sentence: the fact it is about, without its full stop."""

    path: str
    line: HourLine
    sentence: str


def refuse_too_much(lines: Sequence[HourLine], *, is_long_day: bool, adds: bool, without: Iterable[int] = ()) -> None:
    """without: ids of entries in whose place these come. Raises DocumentError, AskFirst."""
    answered = {LONG_DAY: is_long_day, ADDS: adds}
    open_ones = [question for question in questions(lines, without) if not answered[question.path]]
    if open_ones:
        path = open_ones[0].path
        *others, last = (f"{question.sentence}." for question in open_ones if question.path == path)
        raise AskFirst(path, *others, f"{last} {ASKS[path]}")


def questions(lines: Sequence[HourLine], without: Iterable[int] = ()) -> list[Question]:
    """What is to be asked before these are kept. Raises DocumentError for what cannot be whatever is answered."""
    left_out = set(without)
    sums = _sums(lines, left_out)
    problems = [
        problem
        for line, total in sums
        if total > MINUTES_OF_A_DAY
        for problem in complain(line.path, "minutes", f"{_day_of(line, total)}, over all jobs; a day has 24").complaints
    ]
    problems += [problem for error in _twice(lines) for problem in error.complaints]
    if problems:
        raise DocumentError(problems)
    long = [(line, total) for line, total in sums if total > LONG_DAY_MINUTES]
    there = _present(lines, left_out)
    return [
        *(Question(LONG_DAY, line, _day_of(line, total)) for line, total in long),
        *(Question(ADDS, line, _again(line, there[line.work])) for line in lines if line.work in there),
    ]


def _sums(lines: Sequence[HourLine], without: set[int]) -> list[tuple[HourLine, int]]:
    """The first line of each worker's day, and what the day then has."""
    before, step = _minutes_before(lines, without), rounding()
    more: defaultdict[WorkersDay, int] = defaultdict(int)
    for line in lines:
        more[line.worker.pk, line.day] += rounded_minutes(line.minutes, step)
    first = {(entry.worker.pk, entry.day): entry for entry in reversed(lines)}
    return [(first[key], before.get(key, 0) + minutes) for key, minutes in more.items()]


def _twice(lines: Sequence[HourLine]) -> Iterator[DocumentError]:
    counts, first = Counter(line.work for line in lines), {line.work: line for line in reversed(lines)}
    for work, count in counts.items():
        if count > 1:
            entry = first[work]
            why = f"is here twice for {entry.worker} and the same work; enter the sum once"
            yield complain(entry.path, "minutes", why)


def _minutes_before(lines: Sequence[HourLine], without: set[int]) -> dict[WorkersDay, int]:
    rows = _of_these_days(lines).filter(voided_at=None).exclude(pk__in=without).exclude(reverses__in=without)
    sums = rows.order_by().values_list("worker", "day").annotate(total=Sum("minutes"))
    return {(worker, day): total for worker, day, total in sums}


def _of_these_days(lines: Sequence[HourLine]) -> Any:
    workers, days = {line.worker.pk for line in lines}, {line.day for line in lines}
    return TimeEntry.objects.filter(worker__in=workers, day__in=days)


def _day_of(line: HourLine, total: int) -> str:
    return f"{line.worker} has {hours_words(total)} on {day_words(line.day)} with this"


def _present(lines: Sequence[HourLine], without: set[int]) -> dict[tuple[object, ...], int]:
    rows = _of_these_days(lines).filter(voided_at=None, reverses=None, reversed_by=None).exclude(pk__in=without)
    result: defaultdict[tuple[object, ...], int] = defaultdict(int)
    for worker, day, job, step, elsewhere, tag, minutes in rows.values_list(
        "worker", "day", "job", "step", "elsewhere", "tag", "minutes"
    ):
        result[worker, day, job, step, elsewhere.casefold(), tag] += minutes
    return result


def _again(line: HourLine, minutes: int) -> str:
    where = line.job.key if line.job else line.elsewhere
    return f"{line.worker} has {hours_words(minutes)} of this on {day_words(line.day)} already, {where}"
