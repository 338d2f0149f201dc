"""What one worker's day holds: at most 24 hours over all jobs, more than 12 only when they are right, and the same
work once unless it is added."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
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

WorkersDay = tuple[int, date]


class AskFirst(Refused):
    """Nothing is kept until whoever enters it says that it is right. path: what they say it with."""

    def __init__(self, path: str, *sentences: str) -> None:
        super().__init__(*sentences)
        self.path = path


def refuse_too_much(lines: Sequence[HourLine], *, is_long_day: bool, adds: bool, without: Iterable[int] = ()) -> None:
    """without: ids of entries in whose place these come."""
    left_out = set(without)
    _refuse_days(lines, is_long_day, left_out)
    _refuse_again(lines, adds, left_out)


def _refuse_days(lines: Sequence[HourLine], is_long_day: bool, without: set[int]) -> None:
    before, step = _minutes_before(lines, without), rounding()
    more: defaultdict[WorkersDay, int] = defaultdict(int)
    for one in lines:
        more[one.worker.pk, one.day] += rounded_minutes(one.minutes, step)
    first = {(one.worker.pk, one.day): one for one in reversed(lines)}
    sums = {key: before.get(key, 0) + minutes for key, minutes in more.items()}
    over = [(first[key], total) for key, total in sums.items() if total > MINUTES_OF_A_DAY]
    if over:
        raise DocumentError(
            problem
            for one, total in over
            for problem in complain(one.path, "minutes", _too_long(one, total)).complaints
        )
    long = [(first[key], total) for key, total in sums.items() if total > LONG_DAY_MINUTES]
    if long and not is_long_day:
        raise AskFirst("is_long_day", *(f"{_day_of(one, total)}. Is that right?" for one, total in long))


def _minutes_before(lines: Sequence[HourLine], without: set[int]) -> dict[WorkersDay, int]:
    rows = _of_these_days(lines).filter(voided_at=None).exclude(pk__in=without).exclude(reverses__in=without)
    sums = rows.order_by().values_list("worker", "day").annotate(total=Sum("minutes"))
    return {(worker, day): total for worker, day, total in sums}


def _of_these_days(lines: Sequence[HourLine]) -> Any:
    workers, days = {one.worker.pk for one in lines}, {one.day for one in lines}
    return TimeEntry.objects.filter(worker__in=workers, day__in=days)


def _too_long(one: HourLine, total: int) -> str:
    return f"{_day_of(one, total)}, over all jobs; a day has 24"


def _day_of(one: HourLine, total: int) -> str:
    return f"{one.worker} has {hours_words(total)} on {day_words(one.day)} with this"


def _refuse_again(lines: Sequence[HourLine], adds: bool, without: set[int]) -> None:
    counts, first = Counter(one.work for one in lines), {one.work: one for one in reversed(lines)}
    twice = [first[work] for work, count in counts.items() if count > 1]
    if twice:
        one = twice[0]
        raise complain(one.path, "minutes", f"stands twice here for {one.worker} and the same work; enter the sum once")
    if adds:
        return
    there = _present(lines, without)
    again = [(one, there[one.work]) for one in lines if one.work in there]
    if again:
        raise AskFirst("adds", *(_again(one, minutes) for one, minutes in again))


def _present(lines: Sequence[HourLine], without: set[int]) -> dict[tuple[object, ...], int]:
    rows = _of_these_days(lines).filter(voided_at=None, reverses=None, reversed_by=None).exclude(pk__in=without)
    found: defaultdict[tuple[object, ...], int] = defaultdict(int)
    for worker, day, job, step, elsewhere, tag, minutes in rows.values_list(
        "worker", "day", "job", "step", "elsewhere", "tag", "minutes"
    ):
        found[worker, day, job, step, elsewhere.casefold(), tag] += minutes
    return found


def _again(one: HourLine, minutes: int) -> str:
    where = one.job.key if one.job else one.elsewhere
    return f"{one.worker} has {hours_words(minutes)} of this on {day_words(one.day)} already, {where}. Add these?"
