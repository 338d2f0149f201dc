"""What of a job's materials has come and what went back, told by the room above that receives it."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.core.ground.plain_text import plain
from jobs.core.ordering.order_lines import counted_words
from jobs.jobs.models import Job
from quoting.platform.formatting import day_words

ArrivalsOf = Callable[[Job], Sequence["Arrival"]]
_readers: list[ArrivalsOf] = []


@dataclass(frozen=True)
class Arrival:
    """count: what came good, negative for what went back. spoilt: what came damaged or wrong. unit: word for one."""

    material: str
    on: date
    count: Decimal
    unit: str
    spoilt: Decimal = Decimal(0)


def read_arrivals_with(reader: ArrivalsOf) -> None:
    _readers.append(reader)


def arrivals_of(job: Job) -> Sequence[Arrival]:
    """The first to come first."""
    return _readers[-1](job)


def arrival_words(arrivals: Iterable[Arrival]) -> str:
    """Day by day, such as "Thu 3 Dec 2026: 12 sticks; Mon 7 Dec 2026: 2 sticks sent back"; empty while nothing came."""
    return "; ".join(f"{day_words(arrival.on)}: {_count_words(arrival)}" for arrival in arrivals)


def _count_words(arrival: Arrival) -> str:
    count = abs(arrival.count)
    sentence = f"{plain(count)} {counted_words(arrival.unit, 1 if count == 1 else 2)}".strip()
    if arrival.count < 0:
        return f"{sentence} sent back"
    return f"{sentence} good, {plain(arrival.spoilt)} damaged or wrong" if arrival.spoilt else sentence
