"""Goods that come after the day they are needed, as the rooms of orders know them, for the chance of finishing."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from jobs.core.results.activity_results import chance_of
from jobs.core.schedule.completion_risk import FinishingChance
from jobs.work_up.services.job_work_up import JobResult


@dataclass(frozen=True)
class LateGoods:
    """what: the item. stage: key of the activity that wants it. usable_on: from when it may be relied on."""

    what: str
    stage: str
    usable_on: date


Reader = Callable[[JobResult, date], list[LateGoods]]
_readers: list[Reader] = []


def read_late_goods_with(reader: Reader) -> None:
    _readers.append(reader)


def chance_with_goods(work: JobResult, today: date) -> tuple[FinishingChance, list[LateGoods]]:
    """The chance of a job worked up, its activities held until what they want is there. Raises Refused."""
    late = [goods_row for reader in _readers for goods_row in reader(work, today)]
    assert work.done is not None
    return chance_of(
        work.done,
        {goods_row.stage: goods_row.usable_on for goods_row in sorted(late, key=lambda goods_row: goods_row.usable_on)},
    ), late
